package org.equiphase.matching;

import java.util.Arrays;

/**
 * Leaves out candidates that no set can hold: those of which no window holds enough others. Each
 * one left out may rule out further ones, so the rest is looked at again until nothing changes.
 */
final class PoolPrune {

  private static final long MOST_WORK_PER_POINT = 50_000;

  private final PoolPoints points;
  private final PoolTree tree;
  private final PoolBox box;
  private final int groupSize;
  private final Work work;
  private final double[] lower;
  private final double[] upper;
  private final double[] evenWeight;
  private final boolean[] doubtful;
  private final int[] lastSeen;
  private int stamp;

  /**
   * @param tree holds the points of the candidates not yet left out
   */
  PoolPrune(PoolModel model, PoolPoints points, PoolTree tree, Work work) {
    this.points = points;
    this.tree = tree;
    this.work = work;
    groupSize = model.groupSize;
    box = new PoolBox(points, tree, points.outerWidth, groupSize);
    lower = new double[points.dims];
    upper = new double[points.dims];
    evenWeight = new double[model.candidates];
    Arrays.fill(evenWeight, 1);
    doubtful = new boolean[model.candidates];
    lastSeen = new int[model.candidates];
  }

  /** Takes the points of candidates that no set can hold out of the tree. */
  void run() {
    Arrays.fill(doubtful, true);
    boolean again = true;
    while (again && !work.exhausted()) {
      again = false;
      for (int i = 0; i < doubtful.length && !work.exhausted(); i++) {
        if (doubtful[i] && tree.contains(points.first[i])) {
          doubtful[i] = false;
          if (!possible(i)) {
            leaveOut(i);
            again = true;
          }
        }
      }
    }
  }

  /** Without a candidate, the windows around it hold less. */
  private void leaveOut(int i) {
    for (int p = points.first[i]; p < points.first[i + 1]; p++) {
      int near = box.gather(p);
      for (int k = 0; k < near; k++) {
        doubtful[points.owner[box.neighbours[k]]] = true;
      }
    }
    for (int p = points.first[i]; p < points.first[i + 1]; p++) {
      tree.remove(p);
    }
    work.spend(tree.takeLooks());
  }

  private boolean possible(int i) {
    for (int p = points.first[i]; p < points.first[i + 1]; p++) {
      if (possibleAt(p)) {
        return true;
      }
    }
    return false;
  }

  private boolean possibleAt(int p) {
    for (int d = 0; d < points.dims; d++) {
      double at = points.x[p * points.dims + d];
      lower[d] = at - points.outerWidth[d] / 2;
      upper[d] = at + points.outerWidth[d] / 2;
    }
    boolean single = points.owner.length == evenWeight.length;
    if (single && tree.count(lower, upper, groupSize) >= groupSize) {
      return true;
    }
    int count = box.gather(p);
    work.spend(tree.takeLooks() + count);
    if (count == box.neighbours.length) {
      // Too many to look at: kept, which is safe
      return true;
    }
    int[] near = Arrays.copyOf(box.neighbours, count);
    if (distinct(near, count) < groupSize) {
      return false;
    }
    int inside = box.shift(p, evenWeight);
    if (distinct(box.members(), inside) >= groupSize) {
      return true;
    }
    return someWindow(p, near, count, 0, work.part(MOST_WORK_PER_POINT));
  }

  /** Candidates among the first points of an array. */
  private int distinct(int[] among, int count) {
    stamp++;
    int distinct = 0;
    for (int k = 0; k < count; k++) {
      int candidate = points.owner[among[k]];
      if (lastSeen[candidate] != stamp) {
        lastSeen[candidate] = stamp;
        distinct++;
      }
    }
    return distinct;
  }

  /** Whether some window over the dimensions from d on holds p and enough of the others. */
  private boolean someWindow(int p, int[] among, int count, int d, Work share) {
    if (distinct(among, count) < groupSize) {
      return false;
    }
    // Where it takes too long the point is kept, which is safe
    if (d == points.dims || share.exhausted()) {
      return true;
    }
    share.spend(4L * count);
    int dims = points.dims;
    double width = points.outerWidth[d];
    double at = points.x[p * dims + d];
    int[] sorted = Arrays.copyOf(among, count);
    PoolOrder.sort(
        sorted, (a, b) -> Double.compare(points.x[a * dims + d], points.x[b * dims + d]));
    int end = 0;
    int[] inside = new int[count];
    for (int start = 0; start < count; start++) {
      double low = points.x[sorted[start] * dims + d];
      if (low > at) {
        break;
      }
      int before = end;
      while (end < count && points.x[sorted[end] * dims + d] - low <= width) {
        end++;
      }
      // A window that ends where the one before did holds less than that one
      if (end > before && low + width >= at) {
        System.arraycopy(sorted, start, inside, 0, end - start);
        if (someWindow(p, inside, end - start, d + 1, share)) {
          return true;
        }
      }
    }
    return false;
  }
}
