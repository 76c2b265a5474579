package org.equiphase.matching;

import java.util.Arrays;

/**
 * The places where candidates can stand: one point for each, and where cuts are allowed further
 * ones for cuts in steps. Steps are marks on a common scale of phase, so that members cut to the
 * same mark stand together.
 */
final class PoolPoints {

  /** Marks per window; finer marks cost time and win next to nothing, as cuts are settled later. */
  private static final int MARKS_PER_WINDOW = 4;

  private static final int MOST_POINTS = 500_000;

  final int dims;
  final int count;

  /** Coordinate of point p in dimension d at [p·dims + d]. */
  final double[] x;

  /** The candidate that a point belongs to. */
  final int[] owner;

  /** Points of candidate i are those from first[i] to first[i + 1]; its first one is uncut. */
  final int[] first;

  /**
   * Widths within which every group has a point for each member, whatever its cuts: the windows
   * widened by the largest step.
   */
  final double[] outerWidth;

  private PoolPoints(int dims, double[] x, int[] owner, int[] first, double[] outerWidth) {
    this.dims = dims;
    this.count = owner.length;
    this.x = x;
    this.owner = owner;
    this.first = first;
    this.outerWidth = outerWidth;
  }

  /** Uncut candidates only. */
  static PoolPoints uncut(PoolModel model) {
    int[] identity = new int[model.candidates + 1];
    Arrays.setAll(identity, i -> i);
    double[] outer = new double[model.dims];
    Arrays.setAll(outer, d -> model.width[d] + PoolModel.SLACK);
    return new PoolPoints(
        model.dims, model.x, Arrays.copyOf(identity, model.candidates), identity, outer);
  }

  /** How many of some points lie in a box. */
  int inside(int[] some, double[] lower, double[] upper) {
    int count = 0;
    for (int p : some) {
      count += inside(p, lower, upper) ? 1 : 0;
    }
    return count;
  }

  boolean inside(int p, double[] lower, double[] upper) {
    for (int d = 0; d < dims; d++) {
      double at = x[p * dims + d];
      if (at < lower[d] || at > upper[d]) {
        return false;
      }
    }
    return true;
  }

  /** Candidates at every mark within their allowance. */
  static PoolPoints withCuts(PoolModel model, PoolCuts cuts) {
    int dims = model.dims;
    double markDeg = model.width[0] / MARKS_PER_WINDOW;
    int most = Math.max(2, MOST_POINTS / Math.max(1, model.candidates));
    double[] outer = new double[dims];
    int[] first = new int[model.candidates + 1];
    double[] trim = new double[16];
    int count = 0;
    for (int i = 0; i < model.candidates; i++) {
      first[i] = count;
      double reachDeg = cuts.gain(i, 0) * cuts.allowanceMm(i);
      double stepDeg = Math.max(markDeg, reachDeg / most);
      // The tighter the window at the other limits, the finer the marks must be
      for (int d = 1; d < dims && reachDeg > 0; d++) {
        double perDeg = Math.abs(cuts.gain(i, d)) / cuts.gain(i, 0);
        if (model.isPhase(d) && perDeg > 0) {
          double wanted = model.width[d] / MARKS_PER_WINDOW / perDeg;
          stepDeg = Math.max(Math.min(stepDeg, wanted), reachDeg / most);
        }
      }
      double mark = Math.floor(model.x[i * dims] / stepDeg) + 1;
      double at = 0;
      while (true) {
        trim = count == trim.length ? Arrays.copyOf(trim, 2 * count) : trim;
        trim[count++] = at;
        double next = (mark++ * stepDeg - model.x[i * dims]) / cuts.gain(i, 0);
        if (!(reachDeg > 0 && next <= cuts.allowanceMm(i))) {
          break;
        }
        at = next;
      }
      for (int d = 0; d < dims; d++) {
        double step = reachDeg > 0 ? stepDeg / cuts.gain(i, 0) * Math.abs(cuts.gain(i, d)) : 0;
        outer[d] = Math.max(outer[d], step);
      }
    }
    first[model.candidates] = count;
    double[] x = new double[count * dims];
    int[] owner = new int[count];
    for (int i = 0; i < model.candidates; i++) {
      for (int p = first[i]; p < first[i + 1]; p++) {
        owner[p] = i;
        for (int d = 0; d < dims; d++) {
          x[p * dims + d] = cuts.coordinate(i, d, trim[p]);
        }
      }
    }
    for (int d = 0; d < dims; d++) {
      outer[d] += model.width[d] + 2 * PoolModel.SLACK;
    }
    return new PoolPoints(dims, x, owner, first, outer);
  }
}
