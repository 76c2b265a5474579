package org.equiphase.process;

import java.util.Arrays;
import java.util.List;

/** What is followed over time. */
public enum Characteristic {
  /**
   * Phase error of an assembly's first usable reading, taken before anything was cut or set,
   * against the nominal target of the position where it then was; degrees.
   */
  FIRST_ERROR("deg", 2),
  /** What a signed-off cut really took off, less what was signed off; mm. */
  CUT_ERROR("mm", 3),
  /** Insertion loss of an assembly's first valid reading, dB. */
  LOSS("db", 3),
  /** Phase of a bench's reference cable less that of the first check of its kind, degrees. */
  DRIFT("deg", 2),
  /** 1 for an assembly that came into tolerance at the first pass, 0 for any other decided one. */
  FIRST_PASS("", 0),
  /** 1 for each assembly and cause of being held or out. */
  CAUSE("", 0);

  private final String unit;
  private final int decimals;

  Characteristic(String unit, int decimals) {
    this.unit = unit;
    this.decimals = decimals;
  }

  /** As in names of columns; empty for counts. */
  public String unit() {
    return unit;
  }

  /** The unit as people read it. */
  public String symbol() {
    return switch (unit) {
      case "deg" -> "°";
      case "db" -> "dB";
      default -> unit;
    };
  }

  /** As many as people read. */
  public int decimals() {
    return decimals;
  }

  /** Those that control charts are drawn of. */
  public static List<Characteristic> charted() {
    return Arrays.stream(values()).filter(c -> !c.unit.isEmpty()).toList();
  }
}
