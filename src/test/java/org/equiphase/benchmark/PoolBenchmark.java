package org.equiphase.benchmark;

import java.util.concurrent.TimeUnit;
import org.equiphase.matching.PoolProblem;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.matching.Pools;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Sets of 16 from pools of growing size, with length errors of 5° and ripple of 0.8° (standard
 * deviations) and a tolerance of 3°. Prints how many sets were found, beside the bound.
 */
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 2)
@Measurement(iterations = 3)
@Fork(1)
public class PoolBenchmark {

  private static final int SET_SIZE = 16;

  @State(Scope.Benchmark)
  public static class OneFrequency {

    @Param({"100", "1000", "10000", "100000", "1000000"})
    int candidates;

    PoolProblem problem;

    @Setup
    public void draw() {
      problem = Pools.shop(1, candidates, 1, SET_SIZE, 3, 5, 0.8);
    }
  }

  @State(Scope.Benchmark)
  public static class FiveFrequencies {

    @Param({"100", "1000", "10000", "100000"})
    int candidates;

    PoolProblem problem;
    PoolSolution solution;

    @Setup
    public void draw() {
      problem = Pools.shop(1, candidates, 5, SET_SIZE, 3, 5, 0.8);
    }

    @TearDown(Level.Trial)
    public void report() {
      System.out.printf(
          "%d candidates: %d sets, bound %d%n",
          candidates, solution.sets().size(), solution.upperBound());
    }
  }

  @Benchmark
  public PoolSolution oneFrequency(OneFrequency pool) {
    return PoolSolver.solve(pool.problem);
  }

  /** Reading the pool into a problem: the checks of each value and serial number. */
  @Benchmark
  public PoolProblem checkOneFrequency(OneFrequency pool) {
    PoolProblem problem = pool.problem;
    return new PoolProblem(
        problem.setSize(), problem.spares(), problem.limits(), problem.candidates());
  }

  @Benchmark
  public PoolSolution fiveFrequencies(FiveFrequencies pool) {
    pool.solution = PoolSolver.solve(pool.problem);
    return pool.solution;
  }
}
