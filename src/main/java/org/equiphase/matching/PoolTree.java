package org.equiphase.matching;

import java.util.Arrays;

/**
 * A k-d tree over the points, from which points can be taken and to which they can be returned.
 * Built by halving the points along the dimension in which they spread widest, measured in windows
 * (J. L. Bentley, Multidimensional binary search trees used for associative searching, 1975).
 */
final class PoolTree {

  private static final int LEAF = 8;

  private final PoolPoints points;
  private final int dims;
  private final double[] width;

  /** Points in the order of the leaves. */
  private final int[] order;

  private final int[] leafOf;
  private final boolean[] here;

  /** Node 1 is the root, node v has the children 2v and 2v + 1; all leaves on one level. */
  private final int firstLeaf;

  private final int[] start;
  private final int[] alive;
  private final double[] low;
  private final double[] high;
  private final int[] stack = new int[128];

  /** Nodes and points looked at, for the work limit. */
  private long looks;

  PoolTree(PoolPoints points, double[] width) {
    this.points = points;
    this.dims = points.dims;
    this.width = width;
    int leaves = 1;
    while (leaves * LEAF < points.count) {
      leaves *= 2;
    }
    firstLeaf = leaves;
    order = new int[points.count];
    Arrays.setAll(order, p -> p);
    leafOf = new int[points.count];
    here = new boolean[points.count];
    Arrays.fill(here, true);
    start = new int[2 * leaves + 1];
    alive = new int[2 * leaves];
    low = new double[2 * leaves * dims];
    high = new double[2 * leaves * dims];
    build(1, 0, points.count);
    start[2 * leaves] = points.count;
  }

  private void build(int node, int from, int to) {
    start[node] = from;
    alive[node] = to - from;
    for (int d = 0; d < dims; d++) {
      double least = Double.POSITIVE_INFINITY;
      double greatest = Double.NEGATIVE_INFINITY;
      for (int k = from; k < to; k++) {
        double at = points.x[order[k] * dims + d];
        least = Math.min(least, at);
        greatest = Math.max(greatest, at);
      }
      low[node * dims + d] = least;
      high[node * dims + d] = greatest;
    }
    if (node >= firstLeaf) {
      for (int k = from; k < to; k++) {
        leafOf[order[k]] = node;
      }
      return;
    }
    int split = 0;
    for (int d = 1; d < dims; d++) {
      split = extent(node, d) > extent(node, split) ? d : split;
    }
    int middle = (from + to) >>> 1;
    select(from, to - 1, middle, split);
    build(2 * node, from, middle);
    build(2 * node + 1, middle, to);
  }

  private double extent(int node, int d) {
    return (high[node * dims + d] - low[node * dims + d]) / width[d];
  }

  /** Puts the point of rank k in dimension d at its place, lesser ones before it. */
  private void select(int from, int to, int k, int d) {
    while (from < to) {
      int pivot = order[(from + to) >>> 1];
      int i = from;
      int j = to;
      while (i <= j) {
        while (before(order[i], pivot, d)) {
          i++;
        }
        while (before(pivot, order[j], d)) {
          j--;
        }
        if (i <= j) {
          int moved = order[i];
          order[i++] = order[j];
          order[j--] = moved;
        }
      }
      if (k <= j) {
        to = j;
      } else if (k >= i) {
        from = i;
      } else {
        return;
      }
    }
  }

  /** Equal coordinates go by index, so that the tree is the same whatever the pivots. */
  private boolean before(int p, int q, int d) {
    double a = points.x[p * dims + d];
    double b = points.x[q * dims + d];
    return a < b || a == b && p < q;
  }

  void remove(int point) {
    if (here[point]) {
      here[point] = false;
      for (int node = leafOf[point]; node > 0; node >>= 1) {
        alive[node]--;
      }
    }
  }

  void restore(int point) {
    if (!here[point]) {
      here[point] = true;
      for (int node = leafOf[point]; node > 0; node >>= 1) {
        alive[node]++;
      }
    }
  }

  boolean contains(int point) {
    return here[point];
  }

  int size() {
    return alive[1];
  }

  /** Nodes and points looked at since the last call. */
  long takeLooks() {
    long taken = looks;
    looks = 0;
    return taken;
  }

  /**
   * Collects points of the box from {@code lower} to {@code upper}, limits included.
   *
   * @param most where to stop; at most {@code found.length}
   * @return their number
   */
  int collect(double[] lower, double[] upper, int[] found, int most) {
    int count = 0;
    int depth = 0;
    stack[depth++] = 1;
    while (depth > 0) {
      int node = stack[--depth];
      looks++;
      if (alive[node] == 0 || outside(node, lower, upper)) {
        continue;
      }
      if (node < firstLeaf) {
        stack[depth++] = 2 * node + 1;
        stack[depth++] = 2 * node;
        continue;
      }
      for (int k = start[node]; k < end(node); k++) {
        int point = order[k];
        looks++;
        if (here[point] && points.inside(point, lower, upper)) {
          if (count == most) {
            return count;
          }
          found[count++] = point;
        }
      }
    }
    return count;
  }

  /** Counts points of a box; stops looking once the count has reached {@code enough}. */
  int count(double[] lower, double[] upper, int enough) {
    int count = 0;
    int depth = 0;
    stack[depth++] = 1;
    while (depth > 0 && count < enough) {
      int node = stack[--depth];
      looks++;
      if (alive[node] == 0 || outside(node, lower, upper)) {
        continue;
      }
      if (within(node, lower, upper)) {
        count += alive[node];
      } else if (node < firstLeaf) {
        stack[depth++] = 2 * node + 1;
        stack[depth++] = 2 * node;
      } else {
        for (int k = start[node]; k < end(node); k++) {
          looks++;
          count += here[order[k]] && points.inside(order[k], lower, upper) ? 1 : 0;
        }
      }
    }
    return count;
  }

  /** Leaves follow one another, so each ends where the next one starts. */
  private int end(int leaf) {
    return start[leaf + 1];
  }

  private boolean outside(int node, double[] lower, double[] upper) {
    for (int d = 0; d < dims; d++) {
      if (low[node * dims + d] > upper[d] || high[node * dims + d] < lower[d]) {
        return true;
      }
    }
    return false;
  }

  private boolean within(int node, double[] lower, double[] upper) {
    for (int d = 0; d < dims; d++) {
      if (low[node * dims + d] < lower[d] || high[node * dims + d] > upper[d]) {
        return false;
      }
    }
    return true;
  }
}
