package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;

final class PoolSearch {
  private final PoolModel model;
  private final Work work;
  private final PoolCuts cuts;

  PoolSearch(PoolModel model, Work work) {
    this.model = model;
    this.work = work;
    cuts = new PoolCuts(model);
  }

  PoolSolution run() {
    int bound = model.candidates / model.groupSize;
    PoolPoints points = model.cuts ? PoolPoints.withCuts(model, cuts) : PoolPoints.uncut(model);
    PoolTree tree = new PoolTree(points, model.width);
    PoolPeel peel = new PoolPeel(model, points, tree, work);
    peel.run();
    List<int[]> sets = new ArrayList<>();
    for (int[] set : peel.sets) {
      sets.add(IntStream.of(set).map(p -> points.owner[p]).toArray());
    }
    if (sets.size() < bound && model.candidates <= PoolExact.MOST_CANDIDATES) {
      int[] all = IntStream.range(0, model.candidates).toArray();
      PoolExact exact = new PoolExact(model, cuts, all, bound, work);
      List<int[]> better = exact.run();
      if (!work.exhausted()) {
        bound = Math.max(better.size(), sets.size());
      }
      sets = better.size() > sets.size() ? better : sets;
    }
    return new PoolAnswer(model, cuts).of(sets, bound);
  }
}
