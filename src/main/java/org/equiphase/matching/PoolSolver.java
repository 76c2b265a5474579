package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Solves. */
public final class PoolSolver {

  public static final long WORK_PER_MS = 50_000;
  public static final long DEFAULT_WORK_LIMIT = 2_000 * WORK_PER_MS;

  private PoolSolver() {}

  public static PoolSolution solve(PoolProblem problem) {
    return solve(problem, DEFAULT_WORK_LIMIT);
  }

  public static PoolSolution solve(PoolProblem problem, long workLimit) {
    PoolModel model = new PoolModel(problem);
    if (model.dims == 1 && !model.cuts) {
      List<int[]> sets = new ArrayList<>();
      for (int start : PoolLine.best(model.x, model.groupSize, model.width[0] + PoolModel.SLACK)) {
        int[] set = new int[model.groupSize];
        Arrays.setAll(set, k -> start + k);
        sets.add(set);
      }
      return new PoolAnswer(model, PoolCuts.none(model)).of(sets, sets.size());
    }
    return new PoolSearch(model, new Work(workLimit)).run();
  }
}
