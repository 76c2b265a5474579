package org.equiphase.benchmark;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import org.equiphase.matching.Basis;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.matching.Turns;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** Which members of a set of growing size to cut, at 5 frequencies, about a free centre. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class SetBenchmark {

  private static final double VELOCITY_FACTOR = 0.7;
  private static final double C = 299_792_458;

  @Param({"16", "64", "256"})
  int members;

  SetProblem problem;

  @Setup
  public void draw() {
    problem = draw(1, members);
  }

  /**
   * Length errors of 2.5 mm and, at each frequency, 0.3° of ripple (standard deviations), within
   * ±6°: about a third of the members have to be cut.
   */
  public static SetProblem draw(long seed, int members) {
    Random random = new Random(seed);
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < 5; k++) {
      limits.add(new FrequencyLimit(2.6e9 + 0.1e9 * k, 6, 0.8));
    }
    List<Member> assemblies = new ArrayList<>();
    for (int i = 0; i < members; i++) {
      double longByMm = Math.max(-2.5, Math.min(7, 2.5 * random.nextGaussian()));
      List<Double> errors = new ArrayList<>();
      for (FrequencyLimit limit : limits) {
        errors.add(
            -0.36 * limit.frequencyHz() * longByMm / (VELOCITY_FACTOR * C)
                + 0.3 * random.nextGaussian());
      }
      assemblies.add(new Member("M" + i, VELOCITY_FACTOR, errors, 20, null));
    }
    return new SetProblem(Basis.SET, null, Turns.ABSOLUTE, 0.5, limits, assemblies);
  }

  @Benchmark
  public SetSolution solve() {
    return SetSolver.solve(problem);
  }
}
