package org.equiphase.matching;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * Builds sets from the outside of the pool inwards: the candidate with the fewest possible
 * set-mates first, with those mates that are themselves hardest to place. Where one finds no set,
 * it takes the place of an easier one in a set that is there already.
 */
final class PoolPeel {

  private final PoolSets sets;
  private final PoolPoints points;
  private final PoolHardness hardness;
  private final PoolBox box;
  private final Work work;
  private final int groupSize;

  /** How many neighbours a window may be chosen from; fewer in a pool large for its work. */
  private final int mostNear;

  PoolPeel(PoolSets sets, PoolHardness hardness, PoolBox box, Work work) {
    this.sets = sets;
    this.hardness = hardness;
    this.box = box;
    this.work = work;
    points = sets.points;
    groupSize = sets.model.groupSize;
    long perSet = work.left() / (4L * sets.free.size() / groupSize + 1);
    mostNear = (int) Math.max(4 * groupSize, Math.min(PoolBox.MOST_NEIGHBOURS, perSet));
  }

  void run(double[] weight) {
    boolean changed;
    do {
      changed = false;
      for (int i : hardness.order()) {
        changed |= sets.isFree(i) && (place(i, weight) || displace(i));
      }
    } while (changed && !work.exhausted());
  }

  /** Builds a set with a free candidate. */
  boolean place(int i, double[] weight) {
    for (int p = points.first[i]; p < points.first[i + 1]; p++) {
      // In a hurry a window with just enough will do
      int near = box.gather(p, work.exhausted() ? 4 * groupSize : mostNear);
      work.spend(sets.free.takeLooks());
      if (near >= groupSize) {
        work.spend(2L * near);
        box.shift(p, weight);
        int[] group = hardest(p);
        if (group != null) {
          sets.add(group);
          return true;
        }
      }
    }
    return false;
  }

  /** p and the hardest others of the window found, each candidate once. */
  private int @Nullable [] hardest(int p) {
    if (box.memberCount() < groupSize) {
      return null;
    }
    int[] rank = hardness.rank();
    int[] found = Arrays.copyOf(box.members(), box.memberCount());
    PoolOrder.sort(
        found,
        (a, b) ->
            points.owner[a] == points.owner[b]
                ? Integer.compare(a, b)
                : Integer.compare(rank[points.owner[a]], rank[points.owner[b]]));
    int[] group = new int[groupSize];
    group[0] = p;
    int size = 1;
    for (int k = 0; k < found.length && size < group.length; k++) {
      int candidate = points.owner[found[k]];
      boolean first = k == 0 || points.owner[found[k - 1]] != candidate;
      if (first && candidate != points.owner[p]) {
        group[size++] = found[k];
      }
    }
    return size == group.length ? group : null;
  }

  /** Puts a candidate in the place of the easiest one possible, which may find another set. */
  private boolean displace(int i) {
    int[] rank = hardness.rank();
    int bestRank = rank[i];
    int bestSet = -1;
    int bestMember = -1;
    int bestPoint = -1;
    for (int s = 0; s < sets.size() && !work.exhausted(); s++) {
      int[] set = sets.get(s);
      work.spend(1);
      for (int p = points.first[i]; p < points.first[i + 1]; p++) {
        // At most one member is replaced, so one of any two must be near
        if (!sets.near(p, set[0]) && !sets.near(p, set[1])) {
          continue;
        }
        work.spend(set.length);
        for (int k = 0; k < set.length; k++) {
          int r = rank[points.owner[set[k]]];
          if (r > bestRank && sets.fits(set, k, p)) {
            bestRank = r;
            bestSet = s;
            bestMember = k;
            bestPoint = p;
          }
        }
      }
    }
    if (bestSet >= 0) {
      sets.replace(bestSet, bestMember, bestPoint);
    }
    return bestSet >= 0;
  }
}
