package org.equiphase.benchmark.peer;

import com.google.ortools.Loader;
import com.google.ortools.sat.BoolVar;
import com.google.ortools.sat.CpModel;
import com.google.ortools.sat.CpSolver;
import com.google.ortools.sat.CpSolverStatus;
import com.google.ortools.sat.IntVar;
import com.google.ortools.sat.LinearExpr;
import com.google.ortools.sat.LinearExprBuilder;
import com.google.ortools.sat.Literal;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.equiphase.matching.PoolProblem;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.matching.Pools;
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
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * The number of sets from a pool of 300 at 5 frequencies, beside what OR-Tools CP-SAT finds in 60 s
 * for the same pool. Tolerances run from tight to easy; the easy ones are those where nearly every
 * candidate finds a set.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 0)
@Measurement(iterations = 1)
@Fork(1)
public class PoolAgainstCpSat {

  private static final double PEER_SECONDS = 60;

  /** CP-SAT works in whole numbers; phases go in as thousandths of a degree, rounded outwards. */
  private static final double PER_DEGREE = 1_000;

  @Param({"8", "16"})
  int setSize;

  @Param({"1.2", "1.5", "3"})
  double toleranceDeg;

  PoolProblem problem;
  String found = "";

  @Setup
  public void draw() {
    Loader.loadNativeLibraries();
    problem = Pools.shop(1, 300, 5, setSize, toleranceDeg, 5, 0.8);
  }

  @TearDown
  public void report() {
    System.out.printf("sets of %d, tolerance %s°: %s%n", setSize, toleranceDeg, found);
  }

  @Benchmark
  public int ours() {
    PoolSolution solution = PoolSolver.solve(problem);
    found = "ours " + solution.sets().size() + " sets, bound " + solution.upperBound();
    return solution.sets().size();
  }

  @Benchmark
  public long peer() {
    CpModel model = new CpModel();
    int most = problem.candidates().size() / setSize;
    BoolVar[] used = new BoolVar[most];
    BoolVar[][] in = new BoolVar[problem.candidates().size()][most];
    IntVar[] previousLow = new IntVar[0];
    for (int s = 0; s < most; s++) {
      used[s] = model.newBoolVar("used" + s);
      LinearExprBuilder members = LinearExpr.newBuilder();
      for (int i = 0; i < in.length; i++) {
        in[i][s] = model.newBoolVar("in" + i + "_" + s);
        members.add(in[i][s]);
      }
      members.addTerm(used[s], -setSize);
      model.addEquality(members, 0);
      IntVar[] low = windows(model, in, s);
      // Sets are alike: the used ones come first, in the order of their windows
      if (s > 0) {
        model.addImplication(used[s], used[s - 1]);
        int last = low.length - 1;
        model.addLessOrEqual(previousLow[last], low[last]);
      }
      previousLow = low;
    }
    for (BoolVar[] sets : in) {
      model.addAtMostOne(sets);
    }
    model.maximize(LinearExpr.sum(used));
    hintNothing(model, used);
    for (BoolVar[] sets : in) {
      hintNothing(model, sets);
    }
    CpSolver solver = new CpSolver();
    // On two cores eight workers found more than two, and probing took a third of the time
    solver
        .getParameters()
        .setMaxTimeInSeconds(PEER_SECONDS)
        .setNumWorkers(8)
        .setCpModelProbingLevel(0);
    CpSolverStatus status = solver.solve(model);
    boolean any = status == CpSolverStatus.FEASIBLE || status == CpSolverStatus.OPTIMAL;
    long sets = any ? Math.round(solver.objectiveValue()) : 0;
    found = "peer " + sets + " sets, bound " + (long) solver.bestObjectiveBound() + ", " + status;
    return sets;
  }

  /** A first answer to improve on; without one, nothing was found in a minute. */
  private static void hintNothing(CpModel model, BoolVar[] variables) {
    for (BoolVar variable : variables) {
      model.addHint(variable, 0);
    }
  }

  /** A window for each frequency, within which the members of set s must lie. */
  private IntVar[] windows(CpModel model, BoolVar[][] in, int s) {
    List<IntVar> lows = new ArrayList<>();
    for (int k = 0; k < problem.limits().size(); k++) {
      long width = (long) Math.ceil(2 * problem.limits().get(k).toleranceDeg() * PER_DEGREE);
      long[] phase = new long[in.length];
      long least = Long.MAX_VALUE;
      long greatest = Long.MIN_VALUE;
      for (int i = 0; i < in.length; i++) {
        Candidate candidate = problem.candidates().get(i);
        phase[i] = Math.round(candidate.phaseErrorDeg().get(k) * PER_DEGREE);
        least = Math.min(least, phase[i]);
        greatest = Math.max(greatest, phase[i]);
      }
      IntVar low = model.newIntVar(least, greatest, "low" + s + "_" + k);
      for (int i = 0; i < in.length; i++) {
        Literal[] member = {in[i][s]};
        model.addLessOrEqual(low, phase[i]).onlyEnforceIf(member);
        model.addGreaterOrEqual(low, phase[i] - width).onlyEnforceIf(member);
      }
      lows.add(low);
    }
    return lows.toArray(IntVar[]::new);
  }
}
