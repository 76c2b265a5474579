package org.equiphase.process;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.equiphase.metrology.Proportion;
import org.jspecify.annotations.Nullable;

/**
 * First-pass yield of the assemblies decided last.
 *
 * @param total of all of them; null where none is decided
 * @param rows by week, bench, …; weeks in the order of time, others the largest first
 * @param capped whether there are more than were looked at
 */
public record Yield(@Nullable Proportion total, List<Row> rows, boolean capped) {

  static final double CONFIDENCE = 0.95;

  /** So many of the newest are looked at. */
  static final int MOST = 2000;

  public Yield {
    rows = List.copyOf(rows);
  }

  /** The share of one week, bench, …. */
  public record Row(Object member, Proportion share) {}

  /**
   * @param newest values of 1 or 0, the newest first, up to one more than {@link #MOST}
   */
  static Yield of(List<ProcessValue> newest, Dimension by) {
    boolean capped = newest.size() > MOST;
    List<ProcessValue> values = capped ? newest.subList(0, MOST) : newest;
    Map<Object, List<ProcessValue>> groups = new TreeMap<>(Comparator.comparing(Object::toString));
    for (ProcessValue value : values) {
      Object member = by.of(value);
      if (member != null) {
        groups.computeIfAbsent(member, m -> new ArrayList<>()).add(value);
      }
    }
    List<Row> rows =
        new ArrayList<>(
            groups.entrySet().stream()
                .map(group -> new Row(group.getKey(), share(group.getValue())))
                .toList());
    if (by != Dimension.WEEK) {
      rows.sort(Comparator.comparing((Row r) -> r.share.count()).reversed());
    }
    return new Yield(values.isEmpty() ? null : share(values), rows, capped);
  }

  private static Proportion share(List<ProcessValue> values) {
    return Proportion.of(
        values.stream().filter(v -> v.value() == 1).count(), values.size(), CONFIDENCE);
  }
}
