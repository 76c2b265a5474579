package org.equiphase.process;

import java.time.ZoneId;
import java.time.temporal.IsoFields;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What values can be told apart by. */
public enum Dimension {
  WEEK,
  CABLE_TYPE,
  BENCH,
  PERSON,
  LOT;

  /** What a value belongs to; null where that is not known. */
  @Nullable Object of(ProcessValue value) {
    return switch (this) {
      case WEEK -> week(value);
      case CABLE_TYPE -> value.cableTypeId();
      case BENCH -> value.benchId();
      case PERSON -> value.person().isEmpty() ? null : value.person();
      case LOT -> value.lot().isEmpty() ? null : value.lot();
    };
  }

  /** The field of the filter that narrows to one of them; empty for weeks. */
  public String field() {
    return switch (this) {
      case WEEK -> "";
      case CABLE_TYPE -> "cableType";
      case BENCH -> "bench";
      case PERSON -> "person";
      case LOT -> "lot";
    };
  }

  /** ISO 8601 week, such as 2026-W05, in the zone of the service. */
  private static String week(ProcessValue value) {
    var day = value.at().atZone(ZoneId.systemDefault());
    return String.format(
        Locale.ROOT,
        "%d-W%02d",
        day.get(IsoFields.WEEK_BASED_YEAR),
        day.get(IsoFields.WEEK_OF_WEEK_BASED_YEAR));
  }
}
