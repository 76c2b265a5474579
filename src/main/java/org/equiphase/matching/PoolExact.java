package org.equiphase.matching;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The greatest number of disjoint sets among at most 64 candidates: the first of those left either
 * joins one of the groups it could be in or stays out. What is left after a choice is remembered,
 * so that no remainder is searched twice.
 */
final class PoolExact {

  static final int MOST_CANDIDATES = 64;

  private static final int MOST_REMEMBERED = 500_000;
  private static final int WORK_PER_REMAINDER = 50;

  private final PoolModel model;
  private final PoolCuts cuts;
  private final int[] candidates;
  private final Work work;

  /** Which others each candidate could be with, as bits. */
  private final long[] mates;

  private final int[] group;
  private final int[] members;
  private final double[] trimMm;
  private final Map<Long, Integer> seen = new HashMap<>();
  private final List<int[]> chosen = new ArrayList<>();
  private List<int[]> best = List.of();
  private final int target;

  PoolExact(PoolModel model, PoolCuts cuts, int[] candidates, int target, Work work) {
    this.model = model;
    this.cuts = cuts;
    this.candidates = candidates;
    this.target = target;
    this.work = work;
    group = new int[model.groupSize];
    members = new int[model.groupSize];
    trimMm = new double[Math.max(2, model.groupSize)];
    mates = new long[candidates.length];
    int[] pair = new int[2];
    for (int i = 0; i < candidates.length; i++) {
      for (int j = 0; j < i; j++) {
        pair[0] = candidates[i];
        pair[1] = candidates[j];
        if (cuts.settle(pair, 2, trimMm)) {
          mates[i] |= 1L << j;
          mates[j] |= 1L << i;
        }
      }
    }
  }

  /** The best sets found, as candidates; proven the most unless the work is exhausted. */
  List<int[]> run() {
    long all = candidates.length == 64 ? -1L : (1L << candidates.length) - 1;
    search(all);
    return best;
  }

  private boolean done() {
    return work.exhausted() || best.size() >= target;
  }

  private void search(long left) {
    if (chosen.size() > best.size()) {
      best = new ArrayList<>(chosen);
    }
    work.spend(WORK_PER_REMAINDER);
    left = usable(left);
    if (done() || chosen.size() + Long.bitCount(left) / model.groupSize <= best.size()) {
      return;
    }
    Integer before = seen.get(left);
    if (before != null && before >= chosen.size()) {
      return;
    }
    if (seen.size() < MOST_REMEMBERED) {
      seen.put(left, chosen.size());
    }
    int first = Long.numberOfTrailingZeros(left);
    long others = left & ~(1L << first);
    group[0] = first;
    grow(1, others, others & mates[first]);
    search(others);
  }

  /** Those that still have enough others to be with. */
  private long usable(long left) {
    long usable = left;
    for (long rest = left; rest != 0; rest &= rest - 1) {
      int i = Long.numberOfTrailingZeros(rest);
      if (Long.bitCount(mates[i] & left) < model.groupSize - 1) {
        usable &= ~(1L << i);
      }
    }
    return usable;
  }

  /** Extends the group by each possible candidate in turn and goes on where it is complete. */
  private void grow(int size, long left, long possible) {
    if (size == model.groupSize) {
      int[] complete = new int[size];
      for (int k = 0; k < size; k++) {
        complete[k] = candidates[group[k]];
        left &= ~(1L << group[k]);
      }
      int[] saved = group.clone();
      chosen.add(complete);
      search(left);
      chosen.remove(chosen.size() - 1);
      System.arraycopy(saved, 0, group, 0, size);
      return;
    }
    long open = possible;
    while (Long.bitCount(open) >= model.groupSize - size && !done()) {
      int next = Long.numberOfTrailingZeros(open);
      open &= open - 1;
      group[size] = next;
      if (fits(size + 1)) {
        grow(size + 1, left, open & mates[next]);
      }
    }
  }

  private boolean fits(int size) {
    work.spend(1 + cuts.takeSteps());
    if (size < 3 || !cuts.allowed()) {
      // Without cuts, pairs that fit make groups that fit
      return true;
    }
    for (int k = 0; k < size; k++) {
      members[k] = candidates[group[k]];
    }
    return cuts.settle(members, size, trimMm);
  }
}
