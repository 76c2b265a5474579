package org.equiphase.matching;

import java.util.Arrays;

/**
 * Looks for a window that holds a given point and enough others: shifts a window towards the mean
 * of what it holds, always keeping the point inside (mean shift; K. Fukunaga and L. Hostetler,
 * 1975).
 */
final class PoolBox {

  private static final int SHIFTS = 4;
  static final int MOST_NEIGHBOURS = 4_096;

  private final PoolPoints points;
  private final double[] width;
  private final int dims;
  private final PoolTree tree;

  /** What {@link #gather} found. */
  final int[] neighbours;

  private int neighbourCount;
  private final int[] members;
  private int memberCount;
  private final double[] lower;
  private final double[] upper;
  private final double[] mean;

  PoolBox(PoolPoints points, PoolTree tree, double[] width, int groupSize) {
    int most = Math.min(points.count, Math.max(MOST_NEIGHBOURS, 4 * groupSize));
    neighbours = new int[most];
    members = new int[most];
    this.points = points;
    this.tree = tree;
    this.width = width;
    dims = points.dims;
    lower = new double[dims];
    upper = new double[dims];
    mean = new double[dims];
  }

  /** Points that could be in one window with p, p included; returns how many. */
  int gather(int p) {
    return gather(p, neighbours.length);
  }

  /** The same, with at most a given number of them. */
  int gather(int p, int most) {
    for (int d = 0; d < dims; d++) {
      lower[d] = points.x[p * dims + d] - width[d];
      upper[d] = points.x[p * dims + d] + width[d];
    }
    neighbourCount = tree.collect(lower, upper, neighbours, Math.min(most, neighbours.length));
    return neighbourCount;
  }

  /** Members of the window found last, in the first {@link #memberCount()} elements. */
  int[] members() {
    return members;
  }

  int memberCount() {
    return memberCount;
  }

  /**
   * Shifts a window that holds p; the members are those of the fullest window met.
   *
   * @param weight weight of each candidate in the first mean
   * @return number of points in the window
   */
  int shift(int p, double[] weight) {
    Arrays.fill(mean, 0);
    double total = 0;
    for (int k = 0; k < neighbourCount; k++) {
      int q = neighbours[k];
      double w = weight[points.owner[q]];
      total += w;
      for (int d = 0; d < dims; d++) {
        mean[d] += w * points.x[q * dims + d];
      }
    }
    for (int d = 0; d < dims; d++) {
      mean[d] /= total;
    }
    memberCount = 0;
    int[] inside = new int[neighbourCount];
    for (int round = 0; round < SHIFTS; round++) {
      int count = fill(p, inside);
      if (count <= memberCount) {
        break;
      }
      memberCount = count;
      System.arraycopy(inside, 0, members, 0, count);
    }
    return memberCount;
  }

  /** Puts the window as close to the mean as p allows; the mean becomes that of what it holds. */
  private int fill(int p, int[] inside) {
    for (int d = 0; d < dims; d++) {
      double at = points.x[p * dims + d];
      lower[d] = Math.min(at, Math.max(at - width[d], mean[d] - width[d] / 2));
      upper[d] = lower[d] + width[d];
    }
    Arrays.fill(mean, 0);
    int count = 0;
    for (int k = 0; k < neighbourCount; k++) {
      int q = neighbours[k];
      if (q == p || points.inside(q, lower, upper)) {
        inside[count++] = q;
        for (int d = 0; d < dims; d++) {
          mean[d] += points.x[q * dims + d];
        }
      }
    }
    for (int d = 0; d < dims; d++) {
      mean[d] /= count;
    }
    return count;
  }
}
