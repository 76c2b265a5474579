package org.equiphase.matching;

import java.util.List;

/** Saves cuts: exchanges members that must be cut for free candidates with which less is cut. */
final class PoolRecut {

  private final PoolModel model;
  private final PoolCuts cuts;
  private final Work work;
  private final double[] trimMm;

  PoolRecut(PoolModel model, PoolCuts cuts, Work work) {
    this.model = model;
    this.cuts = cuts;
    this.work = work;
    trimMm = new double[model.groupSize];
  }

  /** Cuts of a group and the trim in all; fewer cuts come first. */
  private record Cost(int cuts, double trimMm) {

    boolean below(Cost other) {
      return cuts < other.cuts || cuts == other.cuts && trimMm < other.trimMm - 1e-9;
    }
  }

  /**
   * @param sets the sets as candidates; changed in place
   * @param free the candidates in no set; changed in place
   */
  void run(List<int[]> sets, int[] free) {
    boolean changed = true;
    while (changed && !work.exhausted()) {
      changed = false;
      for (int[] set : sets) {
        changed |= improve(set, free);
      }
    }
  }

  private boolean improve(int[] set, int[] free) {
    Cost least = cost(set);
    boolean changed = false;
    for (int k = 0; k < set.length && least.cuts > 0; k++) {
      for (int f = 0; f < free.length && !work.exhausted(); f++) {
        int out = set[k];
        set[k] = free[f];
        Cost with = cost(set);
        if (with.below(least)) {
          least = with;
          free[f] = out;
          changed = true;
        } else {
          set[k] = out;
        }
      }
    }
    return changed;
  }

  private Cost cost(int[] set) {
    work.spend(cuts.takeSteps() + 1);
    if (!cuts.settle(set, set.length, trimMm)) {
      return new Cost(Integer.MAX_VALUE, Double.POSITIVE_INFINITY);
    }
    int number = 0;
    double total = 0;
    for (double trim : trimMm) {
      number += trim > 0 ? 1 : 0;
      total += trim;
    }
    return new Cost(number, total);
  }
}
