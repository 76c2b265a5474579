package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The sets built so far, and the tree of the points that are still free. */
final class PoolSets {

  final PoolModel model;
  final PoolPoints points;
  final PoolTree free;

  /** Each set as the points at which its members stand. */
  private final List<int[]> sets = new ArrayList<>();

  private final int[] setOf;

  PoolSets(PoolModel model, PoolPoints points, PoolTree free) {
    this.model = model;
    this.points = points;
    this.free = free;
    setOf = new int[model.candidates];
    Arrays.fill(setOf, -1);
  }

  int size() {
    return sets.size();
  }

  int[] get(int set) {
    return sets.get(set);
  }

  /** Whether a candidate is in no set and may be used. */
  boolean isFree(int candidate) {
    return free.contains(points.first[candidate]);
  }

  /** The set of a candidate, or −1. */
  int setOf(int candidate) {
    return setOf[candidate];
  }

  void add(int[] set) {
    for (int p : set) {
      take(points.owner[p], sets.size());
    }
    sets.add(set);
  }

  /** Frees the members of a set; the last set takes its number. */
  int[] remove(int number) {
    int[] removed = sets.get(number);
    for (int p : removed) {
      release(points.owner[p]);
    }
    int last = sets.size() - 1;
    int[] moved = sets.remove(last);
    if (number < last) {
      sets.set(number, moved);
      for (int p : moved) {
        setOf[points.owner[p]] = number;
      }
    }
    return removed;
  }

  /** Puts a free candidate at point p in the place of a member, which becomes free. */
  void replace(int number, int member, int p) {
    int[] set = sets.get(number);
    release(points.owner[set[member]]);
    set[member] = p;
    take(points.owner[p], number);
  }

  private void take(int candidate, int set) {
    setOf[candidate] = set;
    for (int p = points.first[candidate]; p < points.first[candidate + 1]; p++) {
      free.remove(p);
    }
  }

  private void release(int candidate) {
    setOf[candidate] = -1;
    for (int p = points.first[candidate]; p < points.first[candidate + 1]; p++) {
      free.restore(p);
    }
  }

  /** Whether p fits into a set in the place of the member at an index. */
  boolean fits(int[] set, int member, int p) {
    int dims = model.dims;
    for (int d = 0; d < dims; d++) {
      double low = points.x[p * dims + d];
      double high = low;
      for (int k = 0; k < set.length; k++) {
        if (k != member) {
          double at = points.x[set[k] * dims + d];
          low = Math.min(low, at);
          high = Math.max(high, at);
        }
      }
      if (high - low > model.width[d] + PoolModel.SLACK) {
        return false;
      }
    }
    return true;
  }

  /** Whether two points are within a window of each other. */
  boolean near(int p, int q) {
    for (int d = 0; d < model.dims; d++) {
      double apart = points.x[p * model.dims + d] - points.x[q * model.dims + d];
      if (Math.abs(apart) > model.width[d] + PoolModel.SLACK) {
        return false;
      }
    }
    return true;
  }
}
