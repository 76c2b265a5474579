package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;

/** What holds for every set; problems are drawn from a seed, so that a failure can be repeated. */
class SetSolverPropertyTest {

  @Property(tries = 300, seed = "1")
  void appliedPlanIsWithinLimits(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SetProblem problem = Instances.draw(seed, 16, 4);

    PlanCheck.check(problem, SetSolver.solve(problem));
  }

  @Property(tries = 300, seed = "2")
  void orderOfMembersChangesNothing(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SetProblem problem = Instances.draw(seed, 12, 3);
    List<Member> shuffled = new ArrayList<>(problem.assemblies());
    Collections.shuffle(shuffled, new Random(seed));

    SetSolution solution = SetSolver.solve(problem);
    SetSolution other = SetSolver.solve(with(problem, shuffled));

    assertThat(other.assemblies()).containsExactlyInAnyOrderElementsOf(solution.assemblies());
    assertThat(other.centerDeg()).isEqualTo(solution.centerDeg());
  }

  @Property(tries = 300, seed = "3")
  void commonErrorMovesOnlyTheCentre(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SetProblem problem = Instances.draw(seed, 12, 3);
    Assume.that(problem.basis() != Basis.NOMINAL);
    double[] commonDeg = new Random(seed).doubles(3, -1000, 1000).map(Math::rint).toArray();

    SetSolution solution = SetSolver.solve(problem);
    SetSolution moved = SetSolver.solve(mapErrors(problem, (i, k, error) -> error + commonDeg[k]));

    sameAmounts(solution, moved);
    for (int k = 0; k < problem.frequencies().size(); k++) {
      double shift = moved.centerDeg().get(k) - solution.centerDeg().get(k) - commonDeg[k];
      assertThat(problem.turns() == Turns.MODULO_360 ? Math.IEEEremainder(shift, 360) : shift)
          .isCloseTo(0, within(1e-7));
    }
  }

  @Property(tries = 300, seed = "4")
  void wholeTurnsDontCountInModulo(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SetProblem problem = Instances.draw(seed, 12, 3);
    Assume.that(problem.turns() == Turns.MODULO_360);
    Random random = new Random(seed);

    SetSolution solution = SetSolver.solve(problem);
    SetSolution turned =
        SetSolver.solve(mapErrors(problem, (i, k, error) -> error + 360 * (random.nextInt(9) - 4)));

    sameAmounts(solution, turned);
  }

  @Property(tries = 200, seed = "5")
  void widerToleranceIsNeverWorse(@ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    SetProblem problem = Instances.draw(seed, 12, 3);
    List<FrequencyLimit> wider =
        problem.frequencies().stream()
            .map(
                f ->
                    new FrequencyLimit(
                        f.frequencyHz(), Math.min(180, 1.25 * f.toleranceDeg()), f.guardDeg()))
            .toList();

    SetSolution solution = SetSolver.solve(problem);
    SetSolution relaxed =
        SetSolver.solve(
            new SetProblem(
                problem.basis(),
                problem.masterSerial(),
                problem.turns(),
                problem.aimFraction(),
                wider,
                problem.assemblies()));

    assertThat(rank(relaxed)).isLessThanOrEqualTo(rank(solution));
  }

  @Property(tries = 200, seed = "6")
  void workLimitStillGivesAPlanThatHolds(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @LongRange(min = 0, max = 20_000) long workLimit) {
    SetProblem problem = Instances.draw(seed, 12, 3);

    SetSolution limited = SetSolver.solve(problem, workLimit);

    PlanCheck.check(problem, limited);
    int best = rank(SetSolver.solve(problem));
    if (limited.proven()) {
      assertThat(rank(limited)).isEqualTo(best);
    } else {
      assertThat(rank(limited)).isGreaterThanOrEqualTo(best);
    }
  }

  private static int rank(SetSolution solution) {
    return 1000 * solution.replaced() + solution.adjusted();
  }

  private static void sameAmounts(SetSolution solution, SetSolution other) {
    for (int i = 0; i < solution.assemblies().size(); i++) {
      MemberPlan plan = solution.assemblies().get(i);
      MemberPlan otherPlan = other.assemblies().get(i);
      assertThat(otherPlan.action()).isEqualTo(plan.action());
      assertThat(otherPlan.trimMm()).isCloseTo(plan.trimMm(), within(1e-7));
      assertThat(otherPlan.stretchMm()).isCloseTo(plan.stretchMm(), within(1e-7));
    }
  }

  private interface ErrorMap {
    double apply(int member, int frequency, double errorDeg);
  }

  private static SetProblem mapErrors(SetProblem problem, ErrorMap map) {
    List<Member> members = new ArrayList<>();
    for (int i = 0; i < problem.assemblies().size(); i++) {
      Member member = problem.assemblies().get(i);
      List<Double> errors = new ArrayList<>();
      for (int k = 0; k < member.phaseErrorDeg().size(); k++) {
        errors.add(map.apply(i, k, member.phaseErrorDeg().get(k)));
      }
      members.add(
          new Member(
              member.serial(),
              member.velocityFactor(),
              errors,
              member.trimAllowanceMm(),
              member.stretcher()));
    }
    return with(problem, members);
  }

  private static SetProblem with(SetProblem problem, List<Member> members) {
    return new SetProblem(
        problem.basis(),
        problem.masterSerial(),
        problem.turns(),
        problem.aimFraction(),
        problem.frequencies(),
        members);
  }
}
