package org.equiphase.building;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Whether a set agrees as it is put together, and by how much.
 *
 * @param phases one for each frequency
 * @param losses one for each frequency at which the order limits the spread of loss
 * @param share of its limit that the set uses where it uses most; 1 is all
 * @param inside whether it agrees, after the cuts where there are any
 * @param worst the member without which the rest is closest together; null where there are too few
 * @param trimMm what to cut off, by serial, for it to agree
 * @param aboutDeg where each member lies at each frequency after the cuts, about the middle of the
 *     set; against a nominal target, about that
 * @param nominal whether it is counted against a nominal target
 */
public record SetCheck(
    List<Extent> phases,
    List<Extent> losses,
    double share,
    boolean inside,
    @Nullable String worst,
    Map<String, Double> trimMm,
    List<List<Double>> aboutDeg,
    boolean nominal) {

  public SetCheck {
    aboutDeg = aboutDeg.stream().map(List::copyOf).toList();
    phases = List.copyOf(phases);
    losses = List.copyOf(losses);
    trimMm = Map.copyOf(trimMm);
  }

  /** Part of a limit that lies to either side of the middle. */
  double halves() {
    return nominal ? 1 : 0.5;
  }

  /**
   * How far it reaches at one frequency, in degrees or decibels: greatest less least of its
   * members; against a nominal target, the farthest of them from it.
   *
   * @param used as it is, and usedAfter when the cuts are made
   * @param toleranceShare of the order's tolerance, without guard band and reserve
   * @param low and high: the members at the ends
   */
  public record Extent(
      double frequencyHz,
      double used,
      double usedAfter,
      double limit,
      double toleranceShare,
      String low,
      String high) {

    public double share() {
      return usedAfter / limit;
    }

    public boolean inside() {
      return usedAfter <= limit + Pool.SLACK;
    }
  }
}
