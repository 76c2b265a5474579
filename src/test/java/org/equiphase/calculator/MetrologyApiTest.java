package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.metrology.GaugeStudies;
import org.equiphase.rf.CsvRows;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Validation of the metrology calculations through the API; sources beside each test. */
@ExtendWith(RunningService.Extension.class)
class MetrologyApiTest {

  private static final JsonMapper JSON = JsonMapper.shared();

  private final ApiClient api;

  MetrologyApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  static Stream<CsvRows.Row> verdicts() {
    return CsvRows.of("/uncertainty/expected.csv");
  }

  /** Solved cases, see the README beside them. */
  @ParameterizedTest
  @MethodSource("verdicts")
  void conformity(CsvRows.Row row) {
    ObjectNode request =
        JSON.createObjectNode()
            .put("value", row.number("value"))
            .put("standardUncertainty", row.number("standard_uncertainty"))
            .put("guardFactor", 1);
    for (String limit : new String[] {"lower", "upper"}) {
      if (row.text(limit).isEmpty()) {
        request.putNull(limit);
      } else {
        request.put(limit, row.number(limit));
      }
    }
    JsonNode answer = calculate("conformity", request.toString());
    assertThat(answer.get("probability").asDouble())
        .isCloseTo(row.number("conformance_probability"), within(1e-12));
    assertThat(answer.get("acceptedSimple").asBoolean())
        .isEqualTo(row.text("simple_decision").equals("accept"));
    assertThat(answer.get("acceptedGuarded").asBoolean())
        .isEqualTo(row.text("guarded_decision").equals("accept"));
    sameOrNull(answer.get("acceptanceLower"), row.text("accept_lower_k2"));
    sameOrNull(answer.get("acceptanceUpper"), row.text("accept_upper_k2"));
    assertThat(answer.propertyNames())
        .containsExactlyInAnyOrder(
            "probability",
            "acceptedSimple",
            "acceptedGuarded",
            "acceptanceLower",
            "acceptanceUpper");
  }

  /** JCGM 100:2008, H.1, its terms as printed: 25, 9.7, 2.9, 16.6 nm; ν_eff 16.7, t99 = 2.92. */
  @Test
  void uncertaintyBudget() {
    JsonNode answer =
        calculate(
            "uncertainty-budget",
            """
            {"probability": 0.99, "contributions": [
              {"name": "standard", "value": 75, "distribution": "NORMAL", "coverageFactor": 3,
               "sensitivity": 1, "degreesOfFreedom": 18, "sharing": "COMMON"},
              {"name": "difference", "value": 9.7, "distribution": "NORMAL",
               "sensitivity": 1, "degreesOfFreedom": 25.6, "sharing": "INDEPENDENT"},
              {"name": "expansion", "value": 2.9, "distribution": "NORMAL",
               "sensitivity": -1, "degreesOfFreedom": 50, "sharing": "COMMON"},
              {"name": "temperature", "value": 0.05, "distribution": "RECTANGULAR",
               "sensitivity": 575, "degreesOfFreedom": 2, "sharing": "COMMON"}]}
            """);
    JsonNode reading = answer.get("reading");
    assertThat(reading.get("standardUncertainty").asDouble()).isCloseTo(31.65, within(0.05));
    assertThat(reading.get("effectiveDegreesOfFreedom").asDouble()).isCloseTo(16.7, within(0.2));
    assertThat(reading.get("coverageFactor").asDouble()).isCloseTo(2.92, within(0.005));
    assertThat(reading.get("expandedUncertainty").asDouble()).isCloseTo(93, within(0.7));
    assertThat(answer.get("contributions").get(3).get("standardUncertainty").asDouble())
        .isCloseTo(16.6, within(0.05));
    assertThat(answer.get("contributions").get(0).get("varianceSharePercent").asDouble())
        .isCloseTo(100 * 625 / 1002.0, within(0.3));
    assertThat(answer.get("independentStandardUncertainty").asDouble()).isEqualTo(9.7);
    assertThat(answer.get("difference").get("standardUncertainty").asDouble())
        .isCloseTo(9.7 * Math.sqrt(2), within(1e-9));
  }

  @Test
  void budgetsWithoutDegreesOfFreedomExpandWithTwo() {
    JsonNode reading =
        calculate(
                "uncertainty-budget",
                """
                {"contributions": [{"name": "mismatch", "value": 1, "distribution": "U_SHAPED",
                  "sensitivity": 1, "sharing": "INDEPENDENT"}]}
                """)
            .get("reading");
    assertThat(reading.get("effectiveDegreesOfFreedom").isNull()).isTrue();
    assertThat(reading.get("expandedUncertainty").asDouble()).isCloseTo(Math.sqrt(2), within(1e-9));
  }

  /** Linear between checks, in proportion to frequency: common practice, no source. */
  @Test
  void drift() {
    JsonNode answer =
        calculate(
            "drift",
            """
            {"frequencyHz": 2e9, "baselinePhaseDeg": -90, "driftLimitDeg": 0.3,
             "checks": [{"at": "2026-03-02T06:00:00Z", "phaseDeg": -90.2},
                        {"at": "2026-03-02T07:00:00Z", "phaseDeg": -90.6}],
             "readings": [
               {"at": "2026-03-02T06:15:00Z", "frequencyHz": 4e9, "phaseDeg": -1234.5},
               {"at": "2026-03-02T08:00:00Z", "frequencyHz": 2e9, "phaseDeg": 10}]}
            """);
    JsonNode bracketed = answer.get("readings").get(0);
    assertThat(bracketed.get("driftDeg").asDouble()).isCloseTo(-0.6, within(1e-9));
    assertThat(bracketed.get("correctedPhaseDeg").asDouble()).isCloseTo(-1233.9, within(1e-9));
    assertThat(bracketed.get("bracketed").asBoolean()).isTrue();
    assertThat(bracketed.get("beyondLimit").asBoolean()).isTrue();
    assertThat(bracketed.get("after").get("at").asString()).isEqualTo("2026-03-02T07:00:00Z");
    JsonNode open = answer.get("readings").get(1);
    assertThat(open.get("driftDeg").asDouble()).isCloseTo(-0.6, within(1e-9));
    assertThat(open.get("bracketed").asBoolean()).isFalse();
    assertThat(open.get("after").isNull()).isTrue();
    assertThat(open.get("residualStandardUncertaintyDeg").asDouble())
        .isCloseTo(0.3 / Math.sqrt(3), within(1e-9));
  }

  /** NIST/SEMATECH e-Handbook, 6.3.2.2, and a value out of its limits behind them. */
  @Test
  void controlChart() {
    JsonNode answer =
        calculate(
            "control-chart",
            """
            {"values": [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1, 57],
             "baselineCount": 10}
            """);
    assertThat(answer.get("center").asDouble()).isCloseTo(50.81, within(1e-9));
    assertThat(answer.get("upperLimit").asDouble()).isCloseTo(55.8041, within(5e-5));
    assertThat(answer.get("lowerLimit").asDouble()).isCloseTo(45.8159, within(5e-5));
    assertThat(answer.get("movingRangeUpperLimit").asDouble()).isCloseTo(6.1347, within(5e-5));
    assertThat(answer.get("signals")).hasSize(1);
    assertThat(answer.get("signals").get(0).get("index").asInt()).isEqualTo(10);
    assertThat(answer.get("signals").get(0).get("rule").asString()).isEqualTo("ONE_BEYOND_3_SIGMA");
  }

  /** NIST/SEMATECH e-Handbook, 6.1.6. */
  @Test
  void capability() {
    JsonNode answer =
        calculate(
            "capability",
            """
            {"mean": 16, "standardDeviation": 2, "count": 50, "lower": 8, "upper": 20,
             "confidence": 0.95}
            """);
    assertThat(answer.get("cp").get("value").asDouble()).isCloseTo(1, within(1e-12));
    assertThat(answer.get("cpk").get("value").asDouble()).isCloseTo(0.6667, within(5e-5));
    assertThat(answer.get("cpk").get("lower").asDouble()).isBetween(0.4, 0.6667);
    assertThat(answer.get("cpm").asDouble()).isCloseTo(0.7071, within(5e-5));
    JsonNode oneSided =
        calculate("capability", "{\"values\": [1, 2, 3], \"upper\": 5, \"confidence\": 0.9}");
    assertThat(oneSided.get("cp").isNull()).isTrue();
    assertThat(oneSided.get("cpu").get("value").asDouble()).isCloseTo(1, within(1e-12));
  }

  /** AIAG, Measurement Systems Analysis, 4th edition, chapter III-B. */
  @Test
  void gaugeStudy() {
    JsonNode answer =
        calculate(
            "gauge-study",
            "{\"readings\": " + JSON.writeValueAsString(GaugeStudies.manual()) + "}");
    JsonNode range = answer.get("range");
    JsonNode anova = answer.get("anova");
    assertThat(percent(range, "gauge")).isCloseTo(26.68, within(0.01));
    assertThat(range.get("variation").get("distinctCategories").asInt()).isEqualTo(5);
    assertThat(range.get("rangesBeyond")).hasSize(1);
    assertThat(percent(anova, "gauge")).isCloseTo(27.86, within(0.01));
    assertThat(anova.get("variation").get("distinctCategories").asInt()).isEqualTo(4);
    assertThat(anova.get("pooled").asBoolean()).isTrue();
    assertThat(anova.get("interaction").get("f").asDouble()).isCloseTo(0.434, within(5e-4));
    assertThat(anova.get("total").get("sumOfSquares").asDouble()).isCloseTo(94.6471, within(5e-5));
  }

  /** Houf and Berman 1988: 20.15 % of the tolerance 18 to 58, interaction kept. */
  @Test
  void gaugeStudyAgainstATolerance() {
    JsonNode anova =
        calculate(
                "gauge-study",
                "{\"toleranceWidth\": 40, \"readings\": "
                    + JSON.writeValueAsString(GaugeStudies.modules())
                    + "}")
            .get("anova");
    assertThat(anova.get("pooled").asBoolean()).isFalse();
    assertThat(anova.get("variation").get("gauge").get("percentOfTolerance").asDouble())
        .isCloseTo(20.1453, within(5e-5));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "conformity | {'standardUncertainty': 1, 'lower': 0, 'upper': 1, 'guardFactor': 1} | value",
        "conformity | {'value': 1, 'standardUncertainty': -1, 'lower': 0, 'upper': 1, 'guardFactor': 1} | standardUncertainty",
        "conformity | {'value': 1, 'standardUncertainty': 1, 'lower': 2, 'upper': 1, 'guardFactor': 1} | lower",
        "conformity | {'value': 1, 'standardUncertainty': 1, 'lower': 0, 'upper': 1e999, 'guardFactor': 1} | upper",
        "conformity | {'value': 1, 'standardUncertainty': 1, 'lower': null, 'upper': null, 'guardFactor': 1} | lower",
        "conformity | {'value': 1, 'standardUncertainty': 1, 'lower': 0, 'upper': 1} | guardFactor",
        "uncertainty-budget | {'contributions': []} | contributions",
        "uncertainty-budget | {'contributions': [{'name': 'a', 'value': -1, 'distribution': 'NORMAL', 'sensitivity': 1, 'sharing': 'COMMON'}]} | contributions[0].value",
        "uncertainty-budget | {'contributions': [{'name': 'a', 'value': -1, 'distribution': 'NORMAL', 'coverageFactor': 2, 'sensitivity': 1, 'sharing': 'COMMON'}]} | contributions[0].value",
        "uncertainty-budget | {'contributions': [{'name': 'a', 'value': 1, 'distribution': 'RECTANGULAR', 'coverageFactor': 2, 'sensitivity': 1, 'sharing': 'COMMON'}]} | contributions[0].coverageFactor",
        "uncertainty-budget | {'contributions': [{'name': 'a', 'value': 1, 'distribution': 'NORMAL', 'sensitivity': 1, 'sharing': 'COMMON'}], 'probability': 1} | probability",
        "uncertainty-budget | {'contributions': [null]} | contributions[0]",
        "drift | {'frequencyHz': 1e9, 'baselinePhaseDeg': 0, 'driftLimitDeg': 1, 'checks': [{'at': '2026-03-02T06:00:00Z', 'phaseDeg': 0}], 'readings': [{'at': '2026-03-02T05:00:00Z', 'frequencyHz': 1e9, 'phaseDeg': 0}]} | readings[0].at",
        "drift | {'frequencyHz': 1e9, 'baselinePhaseDeg': 0, 'driftLimitDeg': 1, 'checks': [{'at': '2026-03-02T06:00:00Z', 'phaseDeg': 0}], 'readings': [{'at': '2026-03-02T07:00:00Z', 'frequencyHz': 0, 'phaseDeg': 0}]} | readings[0].frequencyHz",
        "drift | {'frequencyHz': 1e9, 'baselinePhaseDeg': 0, 'driftLimitDeg': 1, 'checks': [{'at': '2026-03-02T06:00:00Z', 'phaseDeg': 0}, {'at': '2026-03-02T05:00:00Z', 'phaseDeg': 0}], 'readings': []} | checks[1].at",
        "drift | {'frequencyHz': 1e9, 'baselinePhaseDeg': 0, 'driftLimitDeg': 1, 'checks': [{'at': 'noon', 'phaseDeg': 0}], 'readings': []} | checks[0].at",
        "control-chart | {'values': [1]} | values",
        "control-chart | {'values': [1, 2], 'baselineCount': 3} | baselineCount",
        "capability | {'values': [1, 2], 'mean': 1, 'upper': 5, 'confidence': 0.9} | values",
        "capability | {'mean': 1, 'count': 5, 'upper': 5, 'confidence': 0.9} | standardDeviation",
        "capability | {'values': [1, 2], 'upper': 5} | confidence",
        "gauge-study | {'readings': [[[1, 2]], null]} | readings[1]",
        "gauge-study | {'readings': [[[1, 2]], [null]]} | readings[1][0]",
        "gauge-study | {'readings': [[[1, 2]], [[1]]]} | readings[1][0]",
        "gauge-study | {'readings': [[[1, 2]], [[1, 2]]], 'poolingP': 2} | poolingP",
        "gauge-study | {'readings': [[[1, 2]], [[1, 2]]], 'toleranceWidth': 0} | toleranceWidth",
      })
  void badNumbersAreNamed(String calculation, String body, String field) {
    HttpResponse<String> refused =
        api.post("/api/v1/calculations/" + calculation, body.replace('\'', '"'));
    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private static double percent(JsonNode method, String variation) {
    return method.get("variation").get(variation).get("percentOfTotal").asDouble();
  }

  private static void sameOrNull(JsonNode actual, String expected) {
    if (expected.isEmpty()) {
      assertThat(actual.isNull()).isTrue();
    } else {
      assertThat(actual.asDouble()).isCloseTo(Double.parseDouble(expected), within(1e-9));
    }
  }

  private JsonNode calculate(String calculation, String request) {
    HttpResponse<String> answer = api.post("/api/v1/calculations/" + calculation, request);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }
}
