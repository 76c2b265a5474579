package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** Small sets whose answer is worked out by hand. */
class SetSolverTest {

  /** Phase of a millimetre of air at 2.8 GHz: 360·2.8e9/299 792 458/1000 degrees. */
  private static final double DEG_PER_MM = 3.362326;

  @Test
  void cutsTheLongOneByTheWorkedExample() {
    // 1 mm of cable with v = 0.695 at 2.8 GHz is 4.84° (360·f/(v·c), by hand calculator)
    SetSolution solution =
        SetSolver.solve(nominal(1, limit(2.8e9, 3, 0), trim("A1", -4.84 - 3), trim("A2", 2)));

    MemberPlan cut = solution.assemblies().get(0);
    assertThat(solution.outcome()).isEqualTo(Outcome.ADJUSTABLE);
    assertThat(cut.action()).isEqualTo(Action.TRIM);
    assertThat(cut.trimMm()).isCloseTo(1, within(1e-3));
    assertThat(cut.predictedErrorDeg().get(0)).isCloseTo(-3, within(1e-9));
    assertThat(solution.assemblies().get(1).action()).isEqualTo(Action.NONE);
    assertThat(solution.centerDeg()).containsExactly(0.0);
  }

  @Test
  void aimIsForAdjustedMembersOnly() {
    SetSolution solution =
        SetSolver.solve(nominal(0.3, limit(2.8e9, 3, 0), trim("A1", -3), trim("A2", -3.1)));

    assertThat(solution.assemblies().get(0).action()).isEqualTo(Action.NONE);
    assertThat(solution.assemblies().get(1).predictedErrorDeg().get(0))
        .isCloseTo(-0.9, within(1e-9));
  }

  @Test
  void guardBandNarrowsTheLimit() {
    FrequencyLimit guarded = limit(2.8e9, 3, 1);

    SetSolution solution =
        SetSolver.solve(nominal(1, guarded, fixed("A1", 2), fixed("A2", 2.000001)));

    assertThat(actions(solution)).containsExactly(Action.NONE, Action.REPLACE);
  }

  @Test
  void limitsAreInclusiveToWithinRounding() {
    SetSolution solution =
        SetSolver.solve(
            nominal(1, limit(2.8e9, 3, 0), fixed("A1", 3 + 0.5e-9), fixed("A2", -3 - 2e-9)));

    assertThat(actions(solution)).containsExactly(Action.NONE, Action.REPLACE);
  }

  @Test
  void masterIsLeftAloneAndSetsTheCentre() {
    SetProblem problem =
        problem(
            Basis.MASTER,
            "M",
            Turns.ABSOLUTE,
            limit(2.8e9, 3, 0),
            trim("A", -110),
            trim("M", -100),
            trim("Z", -102));

    SetSolution solution = SetSolver.solve(problem);

    assertThat(solution.centerDeg()).containsExactly(-100.0);
    assertThat(actions(solution)).containsExactly(Action.TRIM, Action.NONE, Action.NONE);
    assertThat(solution.assemblies().get(0).trimMm())
        .isCloseTo(7 / DEG_PER_MM * 0.695, within(1e-6));
    assertThat(solution.assemblies().get(1).reason().code()).isEqualTo(Reason.Code.MASTER);
  }

  @Test
  void freeCentreLiesInTheMiddleOfAMatchedSet() {
    SetSolution solution =
        SetSolver.solve(
            free(
                Turns.ABSOLUTE,
                limit(2.8e9, 3, 0),
                fixed("A", 50),
                fixed("B", 55),
                fixed("C", 51)));

    assertThat(solution.outcome()).isEqualTo(Outcome.MATCHED);
    assertThat(solution.centerDeg().get(0)).isCloseTo(52.5, within(1e-9));
    assertThat(solution.assemblies().get(1).predictedErrorDeg().get(0))
        .isCloseTo(2.5, within(1e-9));
  }

  @Test
  void tieFallsToTheSmallestSerial() {
    // Either of the two may stay; the answer replaces the first
    SetSolution solution =
        SetSolver.solve(free(Turns.ABSOLUTE, limit(2.8e9, 3, 0), fixed("B", 0), fixed("A", 20)));

    assertThat(actions(solution)).containsExactly(Action.NONE, Action.REPLACE);
  }

  @Test
  void fewerReplacedComesBeforeFewerAdjusted() {
    // Two agree as they are; but only at the short one's phase can all three be brought together
    SetSolution solution =
        SetSolver.solve(
            free(Turns.ABSOLUTE, limit(2.8e9, 1, 0), trim("A", 0), trim("B", 1), fixed("C", 10)));

    assertThat(solution.replaced()).isZero();
    assertThat(actions(solution)).containsExactly(Action.TRIM, Action.TRIM, Action.NONE);
    // Both are cut to 2° below C: by 8° and 7°
    assertThat(solution.totalTrimMm()).isCloseTo(15 / DEG_PER_MM * 0.695, within(1e-5));
  }

  @Test
  void stretcherIsPreferredToACut() {
    Member both = new Member("A", 0.695, List.of(-10.0), 20, new StretchRange(-5, 5));

    MemberPlan plan = SetSolver.solve(nominal(1, limit(2.8e9, 3, 0), both)).assemblies().get(0);

    assertThat(plan.action()).isEqualTo(Action.STRETCH);
    assertThat(plan.stretchMm()).isCloseTo(-7 / DEG_PER_MM, within(1e-5));
    assertThat(plan.trimMm()).isZero();
  }

  @Test
  void cutsWhereTheStretcherAloneDoesNotReachAndNeverMixesTheTwo() {
    Member both = new Member("A", 0.695, List.of(-10.0), 20, new StretchRange(-1, 5));

    MemberPlan plan = SetSolver.solve(nominal(1, limit(2.8e9, 3, 0), both)).assemblies().get(0);

    assertThat(plan.action()).isEqualTo(Action.TRIM);
    assertThat(plan.stretchMm()).isZero();
    assertThat(plan.trimMm()).isCloseTo(7 / DEG_PER_MM * 0.695, within(1e-5));
  }

  @Test
  void stretcherThatMustMoveFarOvershootsNoMoreThanItHasTo() {
    Member far = new Member("A", 0.695, List.of(3.5), 0, new StretchRange(1.5, 10));

    MemberPlan plan = SetSolver.solve(nominal(1, limit(2.8e9, 3, 0), far)).assemblies().get(0);

    assertThat(plan.stretchMm()).isCloseTo(1.5, within(1e-9));
    assertThat(plan.predictedErrorDeg().get(0)).isCloseTo(3.5 - 1.5 * DEG_PER_MM, within(1e-5));
  }

  @Test
  void shortCableIsCutToTheNextTurnWhereTurnsDontCount() {
    SetProblem problem =
        problem(
            Basis.NOMINAL,
            null,
            Turns.MODULO_360,
            limit(2.8e9, 3, 0),
            new Member("A", 0.695, List.of(20.0), 80, null));

    MemberPlan plan = SetSolver.solve(problem).assemblies().get(0);

    // From +20° on to 357°, a turn up: 337°
    assertThat(plan.trimMm()).isCloseTo(337 / DEG_PER_MM * 0.695, within(1e-4));
    assertThat(plan.predictedErrorDeg().get(0)).isCloseTo(-3, within(1e-9));
  }

  @Test
  void turnsAreFreeAtEachFrequency() {
    SetProblem problem =
        new SetProblem(
            Basis.SET,
            null,
            Turns.MODULO_360,
            1,
            List.of(limit(2e9, 3, 0), limit(3e9, 3, 0)),
            List.of(
                new Member("A", 0.7, List.of(179.0, 10.0), 0, null),
                new Member("B", 0.7, List.of(-179.0, 370.0 - 1080), 0, null)));

    SetSolution solution = SetSolver.solve(problem);

    assertThat(solution.outcome()).isEqualTo(Outcome.MATCHED);
    assertThat(Math.abs(solution.centerDeg().get(0))).isCloseTo(180, within(1e-9));
    assertThat(solution.centerDeg().get(1)).isCloseTo(10, within(1e-9));
  }

  @Test
  void sameAnswerEveryTimeUnderAWorkLimit() {
    SetProblem problem = Instances.draw(7, 16, 4);

    assertThat(SetSolver.solve(problem, 5_000)).isEqualTo(SetSolver.solve(problem, 5_000));
  }

  @Test
  void saysWhenTheWorkLimitEndsTheSearch() {
    SetProblem problem =
        free(Turns.ABSOLUTE, limit(2.8e9, 3, 0), trim("A", 0), trim("B", -20), trim("C", -40));

    assertThat(SetSolver.solve(problem, 1).proven()).isFalse();
    assertThat(SetSolver.solve(problem).proven()).isTrue();
  }

  private static List<Action> actions(SetSolution solution) {
    return solution.assemblies().stream().map(MemberPlan::action).toList();
  }

  private static FrequencyLimit limit(double frequencyHz, double toleranceDeg, double guardDeg) {
    return new FrequencyLimit(frequencyHz, toleranceDeg, guardDeg);
  }

  private static Member trim(String serial, double errorDeg) {
    return new Member(serial, 0.695, List.of(errorDeg), 20, null);
  }

  private static Member fixed(String serial, double errorDeg) {
    return new Member(serial, 0.695, List.of(errorDeg), 0, null);
  }

  private static SetProblem nominal(double aimFraction, FrequencyLimit limit, Member... members) {
    return new SetProblem(
        Basis.NOMINAL, null, Turns.ABSOLUTE, aimFraction, List.of(limit), List.of(members));
  }

  private static SetProblem free(Turns turns, FrequencyLimit limit, Member... members) {
    return problem(Basis.SET, null, turns, limit, members);
  }

  private static SetProblem problem(
      Basis basis, @Nullable String master, Turns turns, FrequencyLimit limit, Member... members) {
    return new SetProblem(basis, master, turns, 1, List.of(limit), List.of(members));
  }
}
