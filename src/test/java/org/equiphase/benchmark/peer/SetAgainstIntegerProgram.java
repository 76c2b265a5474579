package org.equiphase.benchmark.peer;

import com.google.ortools.Loader;
import com.google.ortools.linearsolver.MPConstraint;
import com.google.ortools.linearsolver.MPObjective;
import com.google.ortools.linearsolver.MPSolver;
import com.google.ortools.linearsolver.MPVariable;
import java.util.concurrent.TimeUnit;
import org.equiphase.benchmark.SetBenchmark;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * A set of 64 members at 5 frequencies, beside the same problem as an integer program solved by
 * SCIP through OR-Tools. Fails where the two optima differ.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
public class SetAgainstIntegerProgram {

  private static final double C = 299_792_458;
  private static final double PEER_SECONDS = 300;

  /** Weighs one member replaced over all cuts, and one cut over all lengths. */
  private static final double REPLACED = 1e6;

  private static final double ADJUSTED = 2e3;
  private static final double BIG_DEG = 200;

  SetProblem problem;
  double oursCost;
  double peerCost;

  @Setup
  public void draw() {
    Loader.loadNativeLibraries();
    problem = SetBenchmark.draw(1, 64);
  }

  @TearDown(Level.Trial)
  public void compare() {
    double expected = oursCost != 0 ? oursCost : cost(SetSolver.solve(problem));
    System.out.printf("cost ours %.6f, peer %.6f%n", expected, peerCost);
    if (peerCost != 0 && Math.abs(expected - peerCost) > 1e-3) {
      throw new IllegalStateException("the optima differ");
    }
  }

  private static double cost(SetSolution solution) {
    return REPLACED * solution.replaced() + ADJUSTED * solution.adjusted() + solution.totalTrimMm();
  }

  @Benchmark
  @Warmup(iterations = 3, time = 1)
  @Measurement(iterations = 5, time = 1)
  public double ours() {
    oursCost = cost(SetSolver.solve(problem));
    return oursCost;
  }

  @Benchmark
  @Warmup(iterations = 0)
  @Measurement(iterations = 1, time = 1)
  public double peer() {
    MPSolver solver = MPSolver.createSolver("SCIP");
    int n = problem.assemblies().size();
    MPVariable[] center = new MPVariable[problem.frequencies().size()];
    for (int k = 0; k < center.length; k++) {
      center[k] = solver.makeNumVar(-BIG_DEG, BIG_DEG, "t" + k);
    }
    MPObjective objective = solver.objective();
    objective.setMinimization();
    for (int i = 0; i < n; i++) {
      Member member = problem.assemblies().get(i);
      MPVariable cut = solver.makeBoolVar("cut" + i);
      MPVariable replaced = solver.makeBoolVar("replaced" + i);
      MPVariable trimMm = solver.makeNumVar(0, member.trimAllowanceMm(), "trim" + i);
      objective.setCoefficient(replaced, REPLACED);
      objective.setCoefficient(cut, ADJUSTED);
      objective.setCoefficient(trimMm, 1);
      MPConstraint onlyIfCut = solver.makeConstraint(Double.NEGATIVE_INFINITY, 0);
      onlyIfCut.setCoefficient(trimMm, 1);
      onlyIfCut.setCoefficient(cut, -member.trimAllowanceMm());
      for (int k = 0; k < center.length; k++) {
        within(solver, member, k, center[k], cut, replaced, trimMm, 1);
        within(solver, member, k, center[k], cut, replaced, trimMm, -1);
      }
    }
    solver.setTimeLimit((long) (1000 * PEER_SECONDS));
    MPSolver.ResultStatus status = solver.solve();
    if (status != MPSolver.ResultStatus.OPTIMAL) {
      System.out.println("peer: " + status + " after " + PEER_SECONDS + " s");
    }
    peerCost = status == MPSolver.ResultStatus.OPTIMAL ? objective.value() : 0;
    return peerCost;
  }

  /** sign·(error + slope·trim − centre) ≤ acceptance, or the aim where cut; free where replaced. */
  private void within(
      MPSolver solver,
      Member member,
      int k,
      MPVariable center,
      MPVariable cut,
      MPVariable replaced,
      MPVariable trimMm,
      int sign) {
    FrequencyLimit limit = problem.frequencies().get(k);
    double accepted = limit.acceptanceDeg();
    double degPerMm = 0.36 * limit.frequencyHz() / (member.velocityFactor() * C);
    MPConstraint row =
        solver.makeConstraint(
            Double.NEGATIVE_INFINITY, accepted - sign * member.phaseErrorDeg().get(k));
    row.setCoefficient(trimMm, sign * degPerMm);
    row.setCoefficient(center, -sign);
    row.setCoefficient(cut, accepted * (1 - problem.aimFraction()));
    row.setCoefficient(replaced, -BIG_DEG);
  }
}
