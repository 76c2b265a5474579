package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Solves the pool problem: as many disjoint sets as possible; then the fewest cuts and the least
 * trim, where cuts are allowed; then the tightest sets, that is, the least sum over the sets of the
 * largest share of a window (spread / (2·tolerance), or loss spread / its limit) that a set takes
 * up.
 *
 * <p>With one limit (one frequency, no limit on loss) and no cuts the answer is exact in both
 * numbers, in n·log n steps. Otherwise it is the best found within a limit on the work; a proven
 * bound stands beside it, and the number of sets is exact where the two are equal. The order of the
 * candidates in the input has no influence, and the same work limit gives the same answer on every
 * machine.
 */
public final class PoolSolver {

  /**
   * Steps that slow cores do in a millisecond. Multiplied with a time limit it gives a work limit
   * that is used up within about that time; a pool so large that reading and sorting it take longer
   * still gets its sets.
   */
  public static final long WORK_PER_MS = 30_000;

  /** Work limit of {@link #solve(PoolProblem)}: about 2 s. */
  public static final long DEFAULT_WORK_LIMIT = 2_000 * WORK_PER_MS;

  private PoolSolver() {}

  /** Solves with the default work limit. */
  public static PoolSolution solve(PoolProblem problem) {
    return solve(problem, DEFAULT_WORK_LIMIT);
  }

  /**
   * Solves with a limit on the work.
   *
   * @param workLimit number of elementary steps, about one for each point that is looked at
   */
  public static PoolSolution solve(PoolProblem problem, long workLimit) {
    PoolModel model = new PoolModel(problem);
    if (model.dims > 1 || model.cuts) {
      return new PoolSearch(model, new Work(workLimit)).run();
    }
    List<int[]> sets = new ArrayList<>();
    double width = model.width[0] + PoolModel.SLACK;
    for (int start : PoolLine.best(model.x, model.groupSize, width)) {
      int[] set = new int[model.groupSize];
      Arrays.setAll(set, k -> start + k);
      sets.add(set);
    }
    return new PoolAnswer(model, PoolCuts.none(model)).of(sets, sets.size());
  }
}
