package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Validation against solved cases; src/test/resources/sets/README.md tells their source. */
class SolvedSetsTest {

  private static final double SPEED_OF_LIGHT = 299_792_458;

  static Stream<String> cases() {
    return IntStream.rangeClosed(1, 17).mapToObj(n -> String.format("s%02d", n));
  }

  @ParameterizedTest
  @MethodSource("cases")
  void reachesTheKnownOptimum(String id) throws IOException {
    JsonNode json = read(id);
    SetProblem problem = problem(json);
    JsonNode optimum = json.get("optimum");

    SetSolution solution = SetSolver.solve(problem);

    assertThat(solution.proven()).isTrue();
    if (!optimum.get("feasible").asBoolean()) {
      assertThat(solution.outcome()).isEqualTo(Outcome.NEEDS_REPLACEMENT);
      return;
    }
    int reworked = optimum.get("min_reworked").asInt();
    assertThat(solution.outcome()).isEqualTo(reworked == 0 ? Outcome.MATCHED : Outcome.ADJUSTABLE);
    assertThat(solution.replaced()).isZero();
    assertThat(solution.adjusted()).isEqualTo(reworked);
    // Tolerance as the cases' README states: their totals are rounded to 1e-6 mm
    assertThat(solution.totalTrimMm())
        .isCloseTo(optimum.get("min_total_mm").asDouble(), within(1e-3));
    assertThat(sets(optimum.get("possible_rework_sets"))).contains(adjusted(solution));
    assertThat(greatestPairDifference(json, solution))
        .isLessThanOrEqualTo(json.get("window_deg").asDouble() + 1e-7);
  }

  private static JsonNode read(String id) throws IOException {
    try (InputStream in = SolvedSetsTest.class.getResourceAsStream("/sets/" + id + ".json")) {
      return JsonMapper.shared().readTree(in);
    }
  }

  private static SetProblem problem(JsonNode json) {
    double toleranceDeg = json.get("window_deg").asDouble() / 2;
    List<FrequencyLimit> frequencies =
        numbers(json.get("frequencies_Hz")).stream()
            .map(hz -> new FrequencyLimit(hz, toleranceDeg, 0))
            .toList();
    JsonNode rework = json.get("rework");
    boolean trim = rework.get("type").asString().equals("trim");
    List<Member> members = new ArrayList<>();
    for (int i = 0; i < json.get("phase_deg").size(); i++) {
      double maxMm = rework.get("max_mm").get(i).asDouble();
      members.add(
          new Member(
              "A" + i,
              json.get("velocity_factor").get(i).asDouble(),
              numbers(json.get("phase_deg").get(i)),
              trim ? maxMm : 0,
              trim ? null : new StretchRange(-maxMm, maxMm)));
    }
    Turns turns =
        json.get("phase_mode").asString().equals("absolute") ? Turns.ABSOLUTE : Turns.MODULO_360;
    return new SetProblem(Basis.SET, null, turns, 1, frequencies, members);
  }

  /** From the phases of the file and the plan alone, as the cases' README defines it. */
  private static double greatestPairDifference(JsonNode json, SetSolution solution) {
    boolean modulo = !json.get("phase_mode").asString().equals("absolute");
    double greatest = 0;
    for (int k = 0; k < json.get("frequencies_Hz").size(); k++) {
      double hz = json.get("frequencies_Hz").get(k).asDouble();
      double[] phase = new double[solution.assemblies().size()];
      for (int i = 0; i < phase.length; i++) {
        MemberPlan plan = solution.assemblies().get(i);
        double velocityFactor = json.get("velocity_factor").get(i).asDouble();
        double shorterM = (plan.trimMm() / velocityFactor - plan.stretchMm()) / 1000;
        phase[i] =
            json.get("phase_deg").get(i).get(k).asDouble() + 360 * hz * shorterM / SPEED_OF_LIGHT;
        for (int j = 0; j < i; j++) {
          double difference = phase[i] - phase[j];
          difference = modulo ? Math.IEEEremainder(difference, 360) : difference;
          greatest = Math.max(greatest, Math.abs(difference));
        }
      }
    }
    return greatest;
  }

  private static List<Integer> adjusted(SetSolution solution) {
    return IntStream.range(0, solution.assemblies().size())
        .filter(i -> solution.assemblies().get(i).action() != Action.NONE)
        .boxed()
        .toList();
  }

  private static List<List<Integer>> sets(JsonNode node) {
    List<List<Integer>> sets = new ArrayList<>();
    node.forEach(set -> sets.add(numbers(set).stream().map(Double::intValue).toList()));
    return sets;
  }

  private static List<Double> numbers(JsonNode node) {
    List<Double> numbers = new ArrayList<>();
    node.forEach(number -> numbers.add(number.asDouble()));
    return numbers;
  }
}
