package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Collectors;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Validation of optimality: an exhaustive search, which shares no code with the solver. */
class BruteForceTest {

  @ParameterizedTest
  @CsvSource({"0, 400, 4, 3", "1000, 400, 5, 2", "2000, 200, 6, 1"})
  void agreesWithExhaustiveSearch(long firstSeed, int count, int maxMembers, int maxFrequencies) {
    for (long seed = firstSeed; seed < firstSeed + count; seed++) {
      SetProblem problem = Instances.draw(seed, maxMembers, maxFrequencies);
      compare(seed, problem);
    }
  }

  static void compare(long seed, SetProblem problem) {
    BruteForce.Answer expected = BruteForce.solve(problem);
    SetSolution solution = SetSolver.solve(problem);

    PlanCheck.check(problem, solution);
    assertThat(solution.proven()).as("proven, seed %d", seed).isTrue();
    assertThat(solution.replaced()).as("replaced, seed %d", seed).isEqualTo(expected.replaced());
    assertThat(solution.adjusted()).as("adjusted, seed %d", seed).isEqualTo(expected.adjusted());
    double trimMm = solution.assemblies().stream().mapToDouble(MemberPlan::trimMm).sum();
    assertThat(trimMm).as("trim, seed %d", seed).isCloseTo(expected.trimMm(), within(1e-6));
    assertThat(solution.totalTrimMm() - trimMm)
        .as("stretch, seed %d", seed)
        .isCloseTo(expected.stretchMm(), within(1e-6));
    assertThat(key(problem, solution)).as("ties, seed %d", seed).isEqualTo(expected.ties().first());
  }

  private static String key(SetProblem problem, SetSolution solution) {
    return letters(problem, solution, true) + letters(problem, solution, false);
  }

  private static String letters(SetProblem problem, SetSolution solution, boolean replaced) {
    return solution.assemblies().stream()
        .filter(plan -> !plan.serial().equals(problem.masterSerial()))
        .map(MemberPlan::action)
        .map(a -> (replaced ? a == Action.REPLACE : a != Action.NONE) ? "a" : "b")
        .collect(Collectors.joining());
  }
}
