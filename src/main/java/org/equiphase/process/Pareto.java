package org.equiphase.process;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;

/**
 * Why assemblies were held or out, the most frequent cause first.
 *
 * @param count number of cases looked at
 * @param capped whether there may be more
 */
public record Pareto(int count, List<Bar> bars, boolean capped) {

  /** So many of the newest cases are looked at. */
  static final int MOST = 2000;

  public Pareto {
    bars = List.copyOf(bars);
  }

  /**
   * A cause.
   *
   * @param share of all cases, and {@code cumulative} of this and the more frequent ones, 0…1
   */
  public record Bar(Cause cause, int count, double share, double cumulative) {}

  /**
   * @param counts of the newest cases, up to {@link #MOST} in all
   */
  static Pareto of(Map<Cause, Integer> counts) {
    int cases = counts.values().stream().mapToInt(Integer::intValue).sum();
    List<Bar> bars = new ArrayList<>();
    int sum = 0;
    for (Map.Entry<Cause, Integer> e :
        counts.entrySet().stream()
            .sorted(
                Comparator.comparing((Map.Entry<Cause, Integer> c) -> -c.getValue())
                    .thenComparing(Map.Entry::getKey))
            .toList()) {
      sum += e.getValue();
      bars.add(
          new Bar(e.getKey(), e.getValue(), (double) e.getValue() / cases, (double) sum / cases));
    }
    return new Pareto(cases, bars, cases == MOST);
  }
}
