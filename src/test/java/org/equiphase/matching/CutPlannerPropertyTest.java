package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.equiphase.matching.CutProblem.Spot;
import org.equiphase.rf.VelocityFactor;

/** What holds for every planned cut; problems are drawn from a seed. */
class CutPlannerPropertyTest {

  private static final double V = 0.7;

  @Property(tries = 300, seed = "11")
  void chosenCutIsTheBestOnTheGrid(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    CutProblem problem = draw(seed);
    CutPlan plan = CutPlanner.plan(problem);
    Assume.that(plan.cutMm() > 0);
    double step = problem.cutResolutionMm();
    assertThat(plan.cutMm() / step).isCloseTo(Math.rint(plan.cutMm() / step), within(1e-6));
    assertThat(plan.cutMm()).isLessThanOrEqualTo(problem.trimAllowanceMm());
    assertThat(plan.probabilityTooShort()).isLessThanOrEqualTo(problem.tooShortLimit() + 1e-9);
    Aim aim = aim(problem);
    for (int n = 1; n * step <= problem.trimAllowanceMm(); n++) {
      Landing.Chance other = aim.chance(n * step);
      if (other.tooShort() <= problem.tooShortLimit()) {
        assertThat(other.in()).isLessThanOrEqualTo(plan.probabilityIn() + 1e-8);
      }
    }
  }

  @Property(tries = 300, seed = "12")
  void stagedCutIsShortOfTheBest(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    CutProblem problem = draw(seed);
    CutPlan plan = CutPlanner.plan(problem);
    Assume.that(plan.cutMm() > 0);
    Landing.Chance best = aim(problem).chance(plan.aimMm());
    assertThat(best.in()).isGreaterThanOrEqualTo(plan.probabilityIn() - 1e-9);
    assertThat(plan.staged()).isEqualTo(best.tooShort() > problem.tooShortLimit());
    if (plan.staged()) {
      assertThat(plan.cutMm()).isLessThan(plan.aimMm());
    } else {
      assertThat(plan.cutMm()).isEqualTo(plan.aimMm());
    }
  }

  @Property(tries = 300, seed = "13")
  void tooShortGrowsWithTheCut(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    Aim aim = aim(draw(seed));
    double before = 0;
    for (double d = 0.5; d < 30; d += 0.5) {
      double tooShort = aim.chance(d).tooShort();
      if (tooShort < 0.5) {
        assertThat(tooShort).isGreaterThanOrEqualTo(before - 1e-8);
      }
      before = tooShort;
    }
  }

  /** A pure delay, cut to zero: more reading error can only take away (Anderson's theorem). */
  @Property(tries = 300, seed = "14")
  void worseReadingsMakeTheCutLessSure(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double lengthMm = 5 + 10 * random.nextDouble();
    double cutMm = 0.2 * random.nextDouble();
    List<Spot> good = new ArrayList<>();
    List<Spot> bad = new ArrayList<>();
    for (int k = 0; k <= random.nextInt(5); k++) {
      double f = 1e9 + 4e9 * random.nextDouble();
      double error = -360 * f / (V * 299_792_458e3) * lengthMm;
      double u = random.nextDouble();
      good.add(new Spot(f, error, 3, u));
      bad.add(new Spot(f, error, 3, u * (1 + random.nextDouble())));
    }
    CutPlan surer = CutPlanner.plan(exactly(good, cutMm));
    CutPlan lessSure = CutPlanner.plan(exactly(bad, cutMm));
    Assume.that(surer.reason() == CutPlan.Reason.CUT && lessSure.reason() == surer.reason());
    assertThat(lessSure.probabilityIn()).isLessThanOrEqualTo(surer.probabilityIn() + 1e-8);
  }

  private static CutProblem exactly(List<Spot> spots, double cutMm) {
    return new CutProblem(spots, new VelocityFactorEstimate(V, 0), cutMm, 0, 100);
  }

  @Property(tries = 300, seed = "15")
  void probabilitiesAreProbabilities(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    CutProblem problem = draw(seed);
    CutPlan plan = CutPlanner.plan(problem);
    assertThat(plan.probabilityIn() + plan.probabilityTooShort() + plan.probabilityTooLong())
        .isCloseTo(1, within(1e-9));
    assertThat(plan.probabilityIn()).isBetween(0.0, 1.0);
    assertThat(plan.overallProbabilityIn() + plan.overallProbabilityTooShort())
        .isBetween(0.0, 1 + 1e-6);
    assertThat(plan.overallProbabilityIn()).isGreaterThanOrEqualTo(0);
    assertThat(plan.expectedCuts()).isBetween(0.0, (double) problem.maxCuts());
    assertThat(CutPlanner.plan(problem)).isEqualTo(plan);
  }

  private static Aim aim(CutProblem problem) {
    return new Aim(
        Landing.of(problem.spots(), VelocityFactor.of(V)),
        problem.cutStandardUncertaintyMm(),
        problem.velocityFactor().standardUncertainty() / V);
  }

  private static CutProblem draw(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    int size = 1 + random.nextInt(5);
    double acceptance = 1 + 4 * random.nextDouble();
    double lengthMm = 20 * random.nextDouble();
    double u = random.nextDouble() * acceptance / 4;
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < size; k++) {
      double f = 1e9 + 4e9 * random.nextDouble();
      double degPerMm = 360 * f / (V * 299_792_458e3);
      double shape = (random.nextDouble() - 0.5) * acceptance;
      spots.add(new Spot(f, shape - degPerMm * lengthMm, acceptance, u * random.nextDouble()));
    }
    return new CutProblem(
        spots,
        new VelocityFactorEstimate(V, V * 0.01 * random.nextDouble()),
        0.4 * random.nextDouble() * random.nextDouble(),
        new double[] {0.05, 0.1, 0.25, 0.5}[random.nextInt(4)],
        25,
        0.005 + 0.05 * random.nextDouble(),
        1 + random.nextInt(4));
  }
}
