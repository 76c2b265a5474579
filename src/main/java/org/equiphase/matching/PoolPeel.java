package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Builds sets from the outside of the pool inwards: the candidate with the fewest possible
 * set-mates first, with those mates that are themselves hardest to place. Where one finds no set,
 * it takes the place of an easier one in a set that is there already.
 */
final class PoolPeel {

  private final PoolModel model;
  private final PoolPoints points;
  private final PoolTree tree;
  private final PoolBox box;
  private final Work work;

  /** For each candidate, how many points could be with it; the fewer, the harder to place. */
  private final int[] mates;

  private final double[] weight;

  /** Position in the order of hardness, the hardest first. */
  private final int[] rank;

  private final int[] order;

  /** Sets as points. */
  final List<int[]> sets = new ArrayList<>();

  private final int[] setOf;

  PoolPeel(PoolModel model, PoolPoints points, PoolTree tree, Work work) {
    this.model = model;
    this.points = points;
    this.tree = tree;
    this.work = work;
    box = new PoolBox(points, tree, model.width);
    mates = new int[model.candidates];
    weight = new double[model.candidates];
    rank = new int[model.candidates];
    setOf = new int[model.candidates];
    Arrays.fill(setOf, -1);
    double[] lower = new double[model.dims];
    double[] upper = new double[model.dims];
    for (int i = 0; i < model.candidates; i++) {
      for (int p = points.first[i]; p < points.first[i + 1]; p++) {
        for (int d = 0; d < model.dims; d++) {
          lower[d] = points.x[p * model.dims + d] - model.width[d];
          upper[d] = points.x[p * model.dims + d] + model.width[d];
        }
        mates[i] = Math.max(mates[i], tree.count(lower, upper, Integer.MAX_VALUE));
      }
      weight[i] = 1.0 / (1 + mates[i]);
    }
    order = PoolOrder.sorted(model.candidates, (i, j) -> Integer.compare(mates[i], mates[j]));
    for (int r = 0; r < order.length; r++) {
      rank[order[r]] = r;
    }
  }

  void run() {
    for (int i : order) {
      if (setOf[i] < 0 && tree.contains(points.first[i]) && !place(i)) {
        replace(i);
      }
    }
  }

  private boolean place(int i) {
    for (int p = points.first[i]; p < points.first[i + 1]; p++) {
      if (box.gather(p) < model.groupSize) {
        continue;
      }
      box.shift(p, weight);
      int[] chosen = hardest(p);
      if (chosen != null) {
        for (int q : chosen) {
          take(points.owner[q], sets.size());
        }
        sets.add(chosen);
        return true;
      }
    }
    return false;
  }

  /** p and the hardest others of the window found, each candidate once. */
  private int @org.jspecify.annotations.Nullable [] hardest(int p) {
    int[] found = Arrays.copyOf(box.members(), box.memberCount());
    PoolOrder.sort(
        found,
        (a, b) ->
            points.owner[a] == points.owner[b]
                ? Integer.compare(a, b)
                : Integer.compare(rank[points.owner[a]], rank[points.owner[b]]));
    int[] chosen = new int[model.groupSize];
    chosen[0] = p;
    int size = 1;
    for (int k = 0; k < found.length && size < chosen.length; k++) {
      int candidate = points.owner[found[k]];
      boolean first = k == 0 || points.owner[found[k - 1]] != candidate;
      if (first && candidate != points.owner[p]) {
        chosen[size++] = found[k];
      }
    }
    return size == chosen.length ? chosen : null;
  }

  private void take(int candidate, int set) {
    setOf[candidate] = set;
    for (int p = points.first[candidate]; p < points.first[candidate + 1]; p++) {
      tree.remove(p);
    }
  }

  private void release(int candidate) {
    setOf[candidate] = -1;
    for (int p = points.first[candidate]; p < points.first[candidate + 1]; p++) {
      tree.restore(p);
    }
  }

  /** Puts a candidate in the place of an easier one, which may find another set later. */
  private boolean replace(int i) {
    int bestSet = -1;
    int bestAt = -1;
    int bestPoint = -1;
    int bestRank = rank[i];
    for (int s = 0; s < sets.size(); s++) {
      int[] set = sets.get(s);
      work.spend(set.length);
      for (int p = points.first[i]; p < points.first[i + 1]; p++) {
        for (int k = 0; k < set.length; k++) {
          int r = rank[points.owner[set[k]]];
          if (r > bestRank && fits(set, k, p)) {
            bestRank = r;
            bestSet = s;
            bestAt = k;
            bestPoint = p;
          }
        }
      }
    }
    if (bestSet < 0) {
      return false;
    }
    int[] set = sets.get(bestSet);
    release(points.owner[set[bestAt]]);
    set[bestAt] = bestPoint;
    take(i, bestSet);
    return true;
  }

  /** Whether p fits into a set in the place of its member at index k. */
  private boolean fits(int[] set, int k, int p) {
    int dims = model.dims;
    for (int d = 0; d < dims; d++) {
      double low = points.x[p * dims + d];
      double high = low;
      for (int j = 0; j < set.length; j++) {
        if (j != k) {
          double at = points.x[set[j] * dims + d];
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
}
