package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.matching.CutProblem.Spot;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * The planner's probabilities against shops drawn at random ({@link CutSimulation}), which know
 * nothing of its sums. Four standard deviations of the count are allowed, and a thousandth for what
 * a plan leaves out to first order.
 */
class CutMonteCarloTest {

  private static final double V = 0.695;
  private static final double C_MM_PER_S = 299_792_458e3;
  private static final double FIRST_ORDER = 0.001;

  /** What the forecast of later cuts may be off by, where frequencies differ by reading errors. */
  private static final double APPROXIMATE = 0.02;

  @ParameterizedTest
  @CsvSource({
    // frequencies, length, acceptance, u, relative u(v), cut, step
    "1, 4.2, 2.0, 0.6, 0.007, 0.05, 0.1",
    "1, 20, 2.5, 0.2, 0.01, 0.1, 0.1",
    "1, 24, 2.0, 0.1, 0.007, 0.3, 0",
    "1, 20.8, 1.7, 0.6, 0.007, 0.3, 0.1",
    "1, 8, 1.5, 0.3, 0, 0.2, 0.5",
    "1, 15, 3.0, 1.0, 0.004, 0.1, 0.05",
  })
  void oneFrequency(
      int size, double length, double acceptance, double u, double uv, double cut, double step) {
    compare(problem(size, length, acceptance, u, uv, cut, step), 40_000, FIRST_ORDER);
  }

  @ParameterizedTest
  @CsvSource({
    "2, 21.5, 3.7, 0.3, 0.007, 0.3, 0.1",
    "2, 17, 1.6, 0.1, 0, 0.1, 0.5",
    "3, 25.1, 2.2, 0.3, 0, 0.3, 0",
    "5, 20.5, 3.5, 0.3, 0.007, 0.2, 0.1",
    "5, 15.6, 3.1, 0.6, 0, 0.3, 0",
    "5, 5.3, 2.8, 0.6, 0.003, 0.1, 0.1",
  })
  void severalFrequencies(
      int size, double length, double acceptance, double u, double uv, double cut, double step) {
    compare(problem(size, length, acceptance, u, uv, cut, step), 20_000, APPROXIMATE);
  }

  private static void compare(CutProblem problem, int runs, double later) {
    CutPlan plan = CutPlanner.plan(problem);
    assertThat(plan.cutMm()).isPositive();
    CutSimulation simulated = new CutSimulation(problem, 2026);
    simulated.run(runs, plan);
    share("in", plan.probabilityIn(), simulated.inAfterFirst, runs, FIRST_ORDER);
    share("too short", plan.probabilityTooShort(), simulated.tooShortAfterFirst, runs, FIRST_ORDER);
    share("in overall", plan.overallProbabilityIn(), simulated.in, runs, later);
    share("too short overall", plan.overallProbabilityTooShort(), simulated.tooShort, runs, later);
    assertThat(plan.expectedCuts())
        .as("cuts")
        .isCloseTo(
            simulated.cuts / (double) runs,
            within(later + 4 * simulated.cutsSd() / Math.sqrt(runs)));
  }

  /** A share's standard deviation is √(p(1−p)/n) (binomial distribution). */
  private static void share(String what, double p, int count, int runs, double allowance) {
    assertThat(count / (double) runs)
        .as(what)
        .isCloseTo(p, within(allowance + 4 * Math.sqrt(p * (1 - p) / runs)));
  }

  private static CutProblem problem(
      int size, double length, double acceptance, double u, double uv, double cut, double step) {
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < size; k++) {
      double f = size == 1 ? 2.8e9 : 2e9 + 2e9 * k / (size - 1);
      double shape = size == 1 ? 0 : 0.25 * acceptance * Math.cos(2.5 * k);
      spots.add(new Spot(f, shape - 360 * f / (V * C_MM_PER_S) * length, acceptance, u));
    }
    return new CutProblem(spots, new VelocityFactorEstimate(V, V * uv), cut, step, 100);
  }
}
