package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

/** Validation against solved pools; src/test/resources/pool/README.md tells their source. */
class SolvedPoolsTest {

  static Stream<String> cases() {
    return SolvedPools.ids();
  }

  @ParameterizedTest
  @MethodSource("cases")
  void reachesTheKnownOptimumAndProvesIt(String id) {
    JsonNode json = SolvedPools.read(id);
    PoolProblem problem = problem(json);

    PoolSolution solution = PoolSolver.solve(problem);

    assertThat(solution.sets()).hasSize(json.get("optimum").get("max_sets").asInt());
    assertThat(solution.optimal()).isTrue();
    assertThat(solution.upperBound()).isEqualTo(solution.sets().size());
    PoolSolutionCheck.check(problem, solution);
  }

  private static PoolProblem problem(JsonNode json) {
    double toleranceDeg = json.get("window_deg").asDouble() / 2;
    List<PoolLimit> limits =
        IntStream.rangeClosed(1, json.get("frequencies").asInt())
            .mapToObj(k -> new PoolLimit(k * 1e9, toleranceDeg, null))
            .toList();
    List<Candidate> candidates = new ArrayList<>();
    for (JsonNode row : json.get("residual_deg")) {
      List<Double> errors = new ArrayList<>();
      row.forEach(error -> errors.add(error.asDouble()));
      candidates.add(Candidate.of("A" + candidates.size(), errors));
    }
    return new PoolProblem(json.get("set_size").asInt(), 0, limits, candidates);
  }
}
