package org.equiphase.matching;

import java.util.Arrays;
import java.util.List;

/**
 * Makes sets tighter without changing their number: lowers the sum, over the sets, of the largest
 * share of a window that a set takes up. A member may be exchanged for a free candidate, and two
 * neighbouring sets may be divided anew along a dimension. Sets with cuts stay as they are; all
 * others stand uncut.
 */
final class PoolTighten {

  /** Sets on either side, in the order of a dimension, with which a set is divided anew. */
  private static final int REACH = 4;

  private static final double LEAST_GAIN = 1e-9;

  private final PoolModel model;
  private final List<int[]> sets;
  private final boolean[] fixed;
  private final Work work;
  private final int dims;
  private final int size;
  private int[] free;

  /**
   * @param sets the sets as candidates; changed in place
   * @param fixed for each set, whether it must stay as it is
   * @param free the candidates that may come in
   */
  PoolTighten(PoolModel model, List<int[]> sets, boolean[] fixed, int[] free, Work work) {
    this.model = model;
    this.sets = sets;
    this.fixed = fixed;
    this.free = free.clone();
    this.work = work;
    dims = model.dims;
    size = model.groupSize;
  }

  void run() {
    boolean changed = true;
    while (changed && !work.exhausted()) {
      changed = false;
      for (int d = 0; d < dims && !work.exhausted(); d++) {
        changed |= divideNeighbours(d);
      }
      for (int s = 0; s < sets.size() && !work.exhausted(); s++) {
        changed |= !fixed[s] && exchange(sets.get(s));
      }
    }
  }

  private boolean divideNeighbours(int d) {
    double[] center = new double[sets.size()];
    for (int s = 0; s < center.length; s++) {
      for (int i : sets.get(s)) {
        center[s] += at(i, d);
      }
    }
    int[] order = PoolOrder.sorted(center.length, (a, b) -> Double.compare(center[a], center[b]));
    boolean changed = false;
    for (int k = 0; k < order.length && !work.exhausted(); k++) {
      for (int j = k + 1; j <= k + REACH && j < order.length; j++) {
        if (!fixed[order[k]] && !fixed[order[j]]) {
          changed |= divide(sets.get(order[k]), sets.get(order[j]));
        }
      }
    }
    return changed;
  }

  /** Divides the members of two sets along the dimension that gives the tightest pair. */
  private boolean divide(int[] first, int[] second) {
    work.spend((long) size * dims * 10);
    double least = share(first, 0, size) + share(second, 0, size) - LEAST_GAIN;
    int[] union = Arrays.copyOf(first, 2 * size);
    System.arraycopy(second, 0, union, size, size);
    int[] best = null;
    for (int d = 0; d < dims; d++) {
      int dim = d;
      PoolOrder.sort(union, (a, b) -> Double.compare(at(a, dim), at(b, dim)));
      double low = share(union, 0, size);
      double high = share(union, size, 2 * size);
      if (low + high < least && Math.max(low, high) <= 1) {
        least = low + high;
        best = union.clone();
      }
    }
    if (best == null) {
      return false;
    }
    System.arraycopy(best, 0, first, 0, size);
    System.arraycopy(best, size, second, 0, size);
    return true;
  }

  private double share(int[] members, int from, int to) {
    double share = 0;
    for (int d = 0; d < dims; d++) {
      double low = Double.POSITIVE_INFINITY;
      double high = Double.NEGATIVE_INFINITY;
      for (int k = from; k < to; k++) {
        double at = at(members[k], d);
        low = Math.min(low, at);
        high = Math.max(high, at);
      }
      share = Math.max(share, (high - low) / model.width[d]);
    }
    return share;
  }

  /** Exchanges the member and the free candidate with which a set becomes tightest. */
  private boolean exchange(int[] set) {
    boolean changed = false;
    double[] low = new double[dims];
    double[] high = new double[dims];
    for (int k = 0; k < size; k++) {
      double share = share(set, 0, size);
      int out = set[k];
      rangeWithout(set, k, low, high);
      int best = -1;
      double least = share - LEAST_GAIN;
      for (int f = 0; f < free.length; f++) {
        double with = shareWith(free[f], low, high, least);
        if (with < least) {
          least = with;
          best = f;
        }
      }
      work.spend(free.length + (long) size * dims);
      if (best >= 0) {
        set[k] = free[best];
        free[best] = out;
        changed = true;
      }
    }
    return changed;
  }

  private void rangeWithout(int[] set, int without, double[] low, double[] high) {
    Arrays.fill(low, Double.POSITIVE_INFINITY);
    Arrays.fill(high, Double.NEGATIVE_INFINITY);
    for (int k = 0; k < size; k++) {
      for (int d = 0; k != without && d < dims; d++) {
        low[d] = Math.min(low[d], at(set[k], d));
        high[d] = Math.max(high[d], at(set[k], d));
      }
    }
  }

  /** Largest share of a window with one more member; stops once it is no less than the limit. */
  private double shareWith(int i, double[] low, double[] high, double limit) {
    double share = 0;
    for (int d = 0; d < dims && share < limit; d++) {
      double at = at(i, d);
      share = Math.max(share, (Math.max(at, high[d]) - Math.min(at, low[d])) / model.width[d]);
    }
    return share;
  }

  private double at(int i, int d) {
    return model.x[i * dims + d];
  }
}
