package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * One dimension without cuts: exact. Two sets that cross or nest can be exchanged for the lower and
 * the upper half of their union, and a member for a candidate between two members, without making
 * the spreads greater; so some best choice takes runs of neighbours in the sorted pool. A table
 * over the sorted pool then finds, among the choices with the most runs, one of least total spread.
 */
final class PoolLine {

  private PoolLine() {}

  /**
   * The runs of a best choice.
   *
   * @param x coordinates in ascending order
   * @param size members of a set
   * @param width greatest spread of a set, slack included
   * @return the first index of each run, ascending
   */
  static List<Integer> best(double[] x, int size, double width) {
    int n = x.length;
    int[] sets = new int[n + 1];
    double[] spread = new double[n + 1];
    boolean[] taken = new boolean[n + 1];
    for (int end = 1; end <= n; end++) {
      sets[end] = sets[end - 1];
      spread[end] = spread[end - 1];
      if (end < size || x[end - 1] - x[end - size] > width) {
        continue;
      }
      int with = sets[end - size] + 1;
      double total = spread[end - size] + (x[end - 1] - x[end - size]);
      if (with > sets[end] || with == sets[end] && total < spread[end]) {
        sets[end] = with;
        spread[end] = total;
        taken[end] = true;
      }
    }
    List<Integer> starts = new ArrayList<>(sets[n]);
    for (int end = n; end > 0; end -= taken[end] ? size : 1) {
      if (taken[end]) {
        starts.add(end - size);
      }
    }
    Collections.reverse(starts);
    return starts;
  }

  /** The greatest number of disjoint sets; the coordinates must be in ascending order. */
  static int count(double[] x, int size, double width) {
    int sets = 0;
    for (int start = 0; start + size <= x.length; ) {
      boolean fits = x[start + size - 1] - x[start] <= width;
      sets += fits ? 1 : 0;
      start += fits ? size : 1;
    }
    return sets;
  }
}
