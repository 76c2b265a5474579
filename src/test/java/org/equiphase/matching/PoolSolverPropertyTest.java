package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.LongRange;
import org.equiphase.matching.PoolProblem.Candidate;

/** What holds for every pool; pools are drawn from a seed, so that a failure can be repeated. */
class PoolSolverPropertyTest {

  /** Small, so that the search must often stop before it is done. */
  private static final long WORK_LIMIT = 2_000_000;

  @Property(tries = 150, seed = "1")
  void setsAreDisjointAndWithinTheirWindows(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    PoolProblem problem = Pools.draw(seed, 24, 4);

    PoolSolutionCheck.check(problem, PoolSolver.solve(problem, WORK_LIMIT));
  }

  @Property(tries = 30, seed = "2")
  void alsoInLargerPools(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @IntRange(min = 50, max = 600) int count,
      @ForAll @LongRange(min = 0, max = WORK_LIMIT) long workLimit) {
    PoolProblem problem = Pools.shop(seed, count, 1 + (int) (seed % 5), 7, 1.5, 4, 0.7);

    PoolSolutionCheck.check(problem, PoolSolver.solve(problem, workLimit));
  }

  @Property(tries = 60, seed = "3")
  void orderOfCandidatesChangesNothing(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    PoolProblem small = Pools.draw(seed, 24, 3);
    PoolProblem large = Pools.shop(seed, 200, 3, 6, 1, 3, 0.7);

    for (PoolProblem problem : List.of(small, large)) {
      List<Candidate> shuffled = new ArrayList<>(problem.candidates());
      Collections.shuffle(shuffled, new Random(seed));
      assertThat(PoolSolver.solve(with(problem, shuffled), WORK_LIMIT))
          .isEqualTo(PoolSolver.solve(problem, WORK_LIMIT));
    }
  }

  @Property(tries = 150, seed = "4")
  void oneMoreCandidateNeverMeansFewerSetsAtOneFrequency(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    PoolProblem problem = Pools.shop(seed, 60, 1, 2 + (int) (seed % 7), 0.5, 4, 0.5);
    List<Candidate> fewer = problem.candidates().subList(1, 60);

    PoolSolution without = PoolSolver.solve(with(problem, fewer));
    PoolSolution solution = PoolSolver.solve(problem);

    assertThat(solution.optimal()).isTrue();
    assertThat(solution.sets().size()).isBetween(without.sets().size(), without.sets().size() + 1);
  }

  @Property(tries = 100, seed = "5")
  void boundHoldsWhateverTheWorkLimit(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @LongRange(min = 0, max = 20_000) long workLimit) {
    PoolProblem problem = Pools.draw(seed, 14, 3);

    PoolSolution limited = PoolSolver.solve(problem, workLimit);
    PoolSolution full = PoolSolver.solve(problem);

    PoolSolutionCheck.check(problem, limited);
    assertThat(limited.upperBound()).isGreaterThanOrEqualTo(full.sets().size());
    assertThat(full.upperBound()).isGreaterThanOrEqualTo(limited.sets().size());
  }

  private static PoolProblem with(PoolProblem problem, List<Candidate> candidates) {
    return new PoolProblem(problem.setSize(), problem.spares(), problem.limits(), candidates);
  }
}
