package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

/** The search where there are several dimensions, or cuts: first the most sets, then the best. */
final class PoolSearch {

  private final PoolModel model;
  private final Work work;
  private final PoolCuts cuts;
  private final PoolCuts none;
  private List<int[]> sets = new ArrayList<>();
  private int bound;

  PoolSearch(PoolModel model, Work work) {
    this.model = model;
    this.work = work;
    cuts = PoolCuts.of(model);
    none = PoolCuts.none(model);
  }

  PoolSolution run() {
    build();
    int[] free = free();
    if (model.cuts) {
      new PoolRecut(model, cuts, work.share(0.5)).run(sets, free);
    }
    boolean[] fixed = new boolean[sets.size()];
    for (int s = 0; s < fixed.length; s++) {
      fixed[s] = !fitsUncut(sets.get(s));
    }
    new PoolTighten(model, sets, fixed, free, work).run();
    return new PoolAnswer(model, cuts).of(sets, bound);
  }

  private void build() {
    PoolBuilder uncut =
        new PoolBuilder(model, none, PoolPoints.uncut(model), model.cuts ? work.share(0.3) : work);
    uncut.run();
    sets = uncut.sets;
    bound = uncut.bound();
    if (model.cuts && sets.size() == model.candidates / model.groupSize) {
      bound = sets.size();
    } else if (model.cuts) {
      PoolBuilder cut =
          new PoolBuilder(model, cuts, PoolPoints.withCuts(model, cuts), work.share(0.7));
      cut.run();
      bound = cut.bound();
      // With as many sets, the fewest cuts are none
      sets = cut.sets.size() > sets.size() ? cut.sets : sets;
    }
  }

  private int[] free() {
    boolean[] used = new boolean[model.candidates];
    for (int[] set : sets) {
      for (int i : set) {
        used[i] = true;
      }
    }
    return IntStream.range(0, model.candidates).filter(i -> !used[i]).toArray();
  }

  private boolean fitsUncut(int[] set) {
    return none.settle(set, set.length, new double[set.length]);
  }
}
