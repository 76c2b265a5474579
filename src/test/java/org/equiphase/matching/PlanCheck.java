package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;

/** Applies a plan to its problem, from the definitions alone, and checks every limit. */
final class PlanCheck {

  private static final double SPEED_OF_LIGHT = 299_792_458;
  private static final double WITHIN = 1e-7;

  private PlanCheck() {}

  static void check(SetProblem problem, SetSolution solution) {
    assertThat(solution.assemblies()).hasSameSizeAs(problem.assemblies());
    int replaced = 0;
    int adjusted = 0;
    double totalMm = 0;
    for (int i = 0; i < problem.assemblies().size(); i++) {
      Member member = problem.assemblies().get(i);
      MemberPlan plan = solution.assemblies().get(i);
      assertThat(plan.serial()).isEqualTo(member.serial());
      assertThat(plan.reason().text()).isNotBlank();
      amounts(member, plan);
      errors(problem, solution, member, plan);
      totalMm += plan.trimMm() + Math.abs(plan.stretchMm());
      replaced += plan.action() == Action.REPLACE ? 1 : 0;
      adjusted += plan.action() == Action.TRIM || plan.action() == Action.STRETCH ? 1 : 0;
      if (member.serial().equals(problem.masterSerial())) {
        assertThat(plan.action()).isEqualTo(Action.NONE);
      }
    }
    assertThat(solution.replaced()).isEqualTo(replaced);
    assertThat(solution.adjusted()).isEqualTo(adjusted);
    assertThat(solution.totalTrimMm()).isCloseTo(totalMm, within(1e-9));
    assertThat(solution.outcome())
        .isEqualTo(
            replaced > 0
                ? Outcome.NEEDS_REPLACEMENT
                : adjusted > 0 ? Outcome.ADJUSTABLE : Outcome.MATCHED);
  }

  private static void amounts(Member member, MemberPlan plan) {
    if (plan.action() == Action.TRIM) {
      assertThat(plan.trimMm()).isPositive();
      assertThat(plan.trimMm()).isLessThanOrEqualTo(member.trimAllowanceMm() + WITHIN);
    } else {
      assertThat(plan.trimMm()).isZero();
    }
    if (plan.action() == Action.STRETCH) {
      StretchRange range = Objects.requireNonNull(member.stretcher());
      assertThat(plan.stretchMm()).isNotZero();
      assertThat(plan.stretchMm()).isBetween(range.minMm() - WITHIN, range.maxMm() + WITHIN);
    } else {
      assertThat(plan.stretchMm()).isZero();
    }
  }

  private static void errors(
      SetProblem problem, SetSolution solution, Member member, MemberPlan plan) {
    boolean modulo = problem.turns() == Turns.MODULO_360;
    double shorterM = (plan.trimMm() / member.velocityFactor() - plan.stretchMm()) / 1000;
    for (int k = 0; k < problem.frequencies().size(); k++) {
      FrequencyLimit limit = problem.frequencies().get(k);
      double error =
          member.phaseErrorDeg().get(k)
              + 360 * limit.frequencyHz() * shorterM / SPEED_OF_LIGHT
              - solution.centerDeg().get(k);
      double difference = error - plan.predictedErrorDeg().get(k);
      assertThat(modulo ? Math.IEEEremainder(difference, 360) : difference)
          .isCloseTo(0, within(WITHIN));
      double limitDeg = limit.toleranceDeg() - limit.guardDeg();
      limitDeg *= plan.action() == Action.NONE ? 1 : problem.aimFraction();
      if (plan.action() != Action.REPLACE) {
        assertThat(Math.abs(plan.predictedErrorDeg().get(k)))
            .isLessThanOrEqualTo(limitDeg + WITHIN);
      }
    }
  }
}
