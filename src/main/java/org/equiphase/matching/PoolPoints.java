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

  /** Candidates uncut and at every mark within their allowance. */
  static PoolPoints withCuts(PoolModel model, PoolCuts cuts) {
    int dims = model.dims;
    int most = Math.max(2, MOST_POINTS / Math.max(1, model.candidates));
    double[] largestStep = new double[dims];
    int[] first = new int[model.candidates + 1];
    double[] trimMm = new double[16];
    int count = 0;
    for (int i = 0; i < model.candidates; i++) {
      first[i] = count;
      double perMm = cuts.gain(i, 0);
      double stepDeg = stepDeg(model, cuts, i, most);
      // The floor may round up to the candidate itself, or marks coincide, where errors are huge
      double mark = Math.floor(model.x[i * dims] / stepDeg) + 1;
      double at = 0;
      int marks = cuts.allowanceMm(i) > 0 ? most : 0;
      for (int k = 0; k <= marks && at <= cuts.allowanceMm(i); k++) {
        trimMm = count == trimMm.length ? Arrays.copyOf(trimMm, 2 * count) : trimMm;
        trimMm[count++] = at;
        double next = ((mark + k) * stepDeg - model.x[i * dims]) / perMm;
        at = perMm == 0 ? Double.POSITIVE_INFINITY : Math.max(0, next);
      }
      for (int d = 0; d < dims && perMm > 0; d++) {
        double step = stepDeg / perMm * Math.abs(cuts.gain(i, d));
        largestStep[d] = Math.max(largestStep[d], step);
      }
    }
    first[model.candidates] = count;
    double[] outer = new double[dims];
    Arrays.setAll(outer, d -> model.width[d] + largestStep[d] + 2 * PoolModel.SLACK);
    return at(model, cuts, first, trimMm, outer);
  }

  private static PoolPoints at(
      PoolModel model, PoolCuts cuts, int[] first, double[] trimMm, double[] outer) {
    int dims = model.dims;
    int count = first[model.candidates];
    double[] x = new double[count * dims];
    int[] owner = new int[count];
    for (int i = 0; i < model.candidates; i++) {
      for (int p = first[i]; p < first[i + 1]; p++) {
        owner[p] = i;
        for (int d = 0; d < dims; d++) {
          x[p * dims + d] = cuts.coordinate(i, d, trimMm[p]);
        }
      }
    }
    return new PoolPoints(dims, x, owner, first, outer);
  }

  /**
   * Distance of the marks of a candidate at the first frequency: fine enough for each frequency.
   */
  private static double stepDeg(PoolModel model, PoolCuts cuts, int i, int mostMarks) {
    double stepDeg = model.width[0] / MARKS_PER_WINDOW;
    double perMm = cuts.gain(i, 0);
    for (int d = 1; d < model.dims && perMm > 0; d++) {
      if (model.isPhase(d)) {
        double here = model.width[d] / MARKS_PER_WINDOW * perMm / cuts.gain(i, d);
        stepDeg = Math.min(stepDeg, here);
      }
    }
    return Math.max(stepDeg, perMm * cuts.allowanceMm(i) / (mostMarks - 1));
  }
}
