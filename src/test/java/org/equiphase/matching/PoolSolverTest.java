package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Map;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.junit.jupiter.api.Test;

/** Against brute force, and by hand. */
class PoolSolverTest {

  private static final PoolLimit LIMIT = new PoolLimit(1e9, 1, null);

  @Test
  void smallPoolsGetAsManySetsAsBruteForceFinds() {
    int withSeveral = 0;
    for (long seed = 0; seed < 600; seed++) {
      PoolProblem problem = Pools.draw(seed, 10, 3);

      PoolSolution solution = PoolSolver.solve(problem);

      int most = new PoolReference(problem).best().sets();
      assertThat(solution.sets()).as("seed " + seed).hasSize(most);
      assertThat(solution.optimal()).as("seed " + seed).isTrue();
      PoolSolutionCheck.check(problem, solution);
      withSeveral += most > 1 ? 1 : 0;
    }
    assertThat(withSeveral).as("draws that say something").isGreaterThan(150);
  }

  @Test
  void oneFrequencyGivesTheTightestOfTheMostSets() {
    for (long seed = 0; seed < 400; seed++) {
      PoolProblem drawn = Pools.draw(seed, 10, 1);
      PoolProblem problem =
          new PoolProblem(
              drawn.setSize(),
              drawn.spares(),
              List.of(new PoolLimit(1e9, drawn.limits().get(0).toleranceDeg(), null)),
              drawn.candidates().stream()
                  .map(c -> Candidate.of(c.serial(), c.phaseErrorDeg()))
                  .toList());

      PoolSolution solution = PoolSolver.solve(problem);

      PoolReference.Best best = new PoolReference(problem).best();
      assertThat(solution.sets()).as("seed " + seed).hasSize(best.sets());
      double windowDeg = 2 * problem.limits().get(0).toleranceDeg();
      assertThat(solution.sets().stream().mapToDouble(s -> s.spreadDeg().get(0)).sum() / windowDeg)
          .as("seed " + seed)
          .isCloseTo(best.share(), within(1e-9));
    }
  }

  @Test
  void cutsOfASetAreTheLeastThatLinearProgramsFind() {
    int compared = 0;
    for (long seed = 0; seed < 1_000; seed++) {
      PoolProblem problem = Pools.draw(seed, 10, 3);
      for (PoolSet set : PoolSolver.solve(problem).sets()) {
        if (!set.trimMm().isEmpty()) {
          List<Candidate> members =
              problem.candidates().stream()
                  .filter(
                      c -> set.serials().contains(c.serial()) || set.spares().contains(c.serial()))
                  .toList();
          double totalMm = set.trimMm().values().stream().mapToDouble(d -> d).sum();
          // The program's own slack of 1e-7° or dB is worth up to 1e-5 mm
          assertThat(totalMm)
              .as("seed " + seed)
              .isCloseTo(new PoolReference(problem).leastTrimMm(members), within(1e-4));
          compared++;
        }
      }
    }
    assertThat(compared).isGreaterThan(50);
  }

  @Test
  void noCutWhereAsManySetsGoWithout() {
    Cut cut = new Cut(0.7, 50, null);
    List<Candidate> pool =
        List.of(
            new Candidate("A", List.of(0.0), null, cut),
            new Candidate("B", List.of(1.0), null, cut),
            new Candidate("C", List.of(-30.0), null, cut));

    PoolSolution solution = PoolSolver.solve(new PoolProblem(2, 0, List.of(LIMIT), pool));

    assertThat(solution.sets())
        .containsExactly(
            new PoolSet(List.of("A", "B"), List.of(), List.of(1.0), List.of(), Map.of()));
    assertThat(solution.optimal()).isTrue();
  }

  @Test
  void theLeastCutJoins() {
    // Any of C, D and E can join A and B by one cut, and C by the least
    Cut cut = new Cut(1, 50, null);
    List<Candidate> pool =
        List.of(
            Candidate.of("A", List.of(0.0)),
            Candidate.of("B", List.of(0.5)),
            new Candidate("C", List.of(-2.0), null, cut),
            new Candidate("D", List.of(-9.0), null, cut),
            new Candidate("E", List.of(-3.0), null, cut));

    PoolSet set = PoolSolver.solve(new PoolProblem(3, 0, List.of(LIMIT), pool)).sets().get(0);

    assertThat(set.serials()).containsExactly("A", "B", "C");
    assertThat(set.trimMm()).containsOnlyKeys("C");
    // 0.5° to C's −2° is 2.5°, 0.5° too far; 1° at 1 GHz is c / 360 / 1 GHz = 0.8328 mm of air
    assertThat(set.trimMm().get("C")).isCloseTo(0.5 * 299.792458 / 360, within(1e-6));
  }

  @Test
  void sparesAreTheOutermost() {
    List<Candidate> pool =
        List.of(
            Candidate.of("A", List.of(1.9)),
            Candidate.of("B", List.of(0.0)),
            Candidate.of("C", List.of(0.8)),
            Candidate.of("D", List.of(1.0)),
            Candidate.of("E", List.of(1.1)));

    PoolSet set = PoolSolver.solve(new PoolProblem(3, 2, List.of(LIMIT), pool)).sets().get(0);

    assertThat(set.serials()).containsExactly("C", "D", "E");
    assertThat(set.spares()).containsExactly("A", "B");
    assertThat(set.spreadDeg()).containsExactly(1.9);
  }

  @Test
  void lossDecidesWhoGoesTogether() {
    PoolLimit limit = new PoolLimit(1e9, 1, 0.1);
    List<Candidate> pool =
        List.of(
            new Candidate("A", List.of(0.0), List.of(1.0), null),
            new Candidate("B", List.of(0.1), List.of(1.5), null),
            new Candidate("C", List.of(1.8), List.of(1.05), null),
            new Candidate("D", List.of(1.9), List.of(1.45), null));

    PoolSolution solution = PoolSolver.solve(new PoolProblem(2, 0, List.of(limit), pool));

    assertThat(solution.sets())
        .extracting(PoolSet::serials)
        .containsExactly(List.of("A", "C"), List.of("B", "D"));
    assertThat(solution.sets().get(0).spreadDb().get(0)).isCloseTo(0.05, within(1e-12));
  }

  @Test
  void largePoolsComeCloseToTheirBound() {
    PoolProblem problem = Pools.shop(1, 2_000, 5, 16, 3, 5, 0.8);

    PoolSolution solution = PoolSolver.solve(problem);

    PoolSolutionCheck.check(problem, solution);
    assertThat(solution.sets().size()).isGreaterThanOrEqualTo(solution.upperBound() * 97 / 100);
    assertThat(solution.upperBound()).isLessThanOrEqualTo(125);
  }

  @Test
  void emptyPoolAndPoolsTooSmallGiveNoSet() {
    PoolSolution none = PoolSolver.solve(new PoolProblem(2, 0, List.of(LIMIT), List.of()));

    assertThat(none).isEqualTo(new PoolSolution(List.of(), List.of(), 0, true));

    PoolLimit second = new PoolLimit(2e9, 1, null);
    PoolSolution one =
        PoolSolver.solve(
            new PoolProblem(
                1_000_000,
                0,
                List.of(LIMIT, second),
                List.of(Candidate.of("A", List.of(0.0, 0.0)))));
    assertThat(one).isEqualTo(new PoolSolution(List.of(), List.of("A"), 0, true));
  }
}
