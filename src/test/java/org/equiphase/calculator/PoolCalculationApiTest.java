package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.matching.SolvedPools;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/** Validation of set building over HTTP; src/test/resources/pool/README.md tells the source. */
@ExtendWith(RunningService.Extension.class)
class PoolCalculationApiTest {

  private static final JsonMapper JSON = JsonMapper.shared();
  private static final String SMALL =
      """
      {"setSize": 2, "frequencies": [{"frequencyHz": 1e9, "toleranceDeg": 1}],
       "assemblies": [{"serial": "A", "phaseErrorDeg": [0]}, {"serial": "B", "phaseErrorDeg": [2]},
                      {"serial": "C", "phaseErrorDeg": [7]}]}
      """;

  private final ApiClient api;

  PoolCalculationApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  static Stream<String> pools() {
    return SolvedPools.ids();
  }

  @ParameterizedTest
  @MethodSource("pools")
  void buildsAsManySetsAsTheSolvedPools(String id) {
    JsonNode pool = SolvedPools.read(id);
    double windowDeg = pool.get("window_deg").asDouble();
    ObjectNode request =
        JSON.createObjectNode()
            .put("setSize", pool.get("set_size").asInt())
            .put("timeLimitMs", 2000);
    ArrayNode frequencies = request.putArray("frequencies");
    for (int k = 1; k <= pool.get("frequencies").asInt(); k++) {
      frequencies.addObject().put("frequencyHz", k * 1e9).put("toleranceDeg", windowDeg / 2);
    }
    ArrayNode assemblies = request.putArray("assemblies");
    for (JsonNode row : pool.get("residual_deg")) {
      assemblies.addObject().put("serial", "A" + assemblies.size()).set("phaseErrorDeg", row);
    }

    JsonNode answer = calculate(request.toString());

    int most = pool.get("optimum").get("max_sets").asInt();
    assertThat(answer.get("sets")).hasSize(most);
    assertThat(answer.get("optimal").asBoolean()).isTrue();
    assertThat(answer.get("upperBound").asInt()).isEqualTo(most);
    for (JsonNode set : answer.get("sets")) {
      set.get("spreadDeg")
          .forEach(spread -> assertThat(spread.asDouble()).isLessThanOrEqualTo(windowDeg + 1e-9));
    }
  }

  @Test
  void answersFieldByField() {
    assertThat(calculate(SMALL))
        .isEqualTo(
            JSON.readTree(
                """
                {"sets": [{"serials": ["A", "B"], "spreadDeg": [2.0]}], "unused": ["C"],
                 "upperBound": 1, "optimal": true}
                """));
  }

  @Test
  void keepsSparesAndLimitsLossAndCutsWhereAsked() {
    // 1 mm of cable with velocity factor 0.75 at 2.9979 GHz is 4.8°, and 0.001 dB at 1 dB/m
    JsonNode answer =
        calculate(
            """
            {"setSize": 2, "spares": 1,
             "frequencies": [{"frequencyHz": 2.99792458e9, "toleranceDeg": 1, "lossSpreadDb": 0.1}],
             "assemblies": [
               {"serial": "A", "phaseErrorDeg": [0], "insertionLossDb": [1.0]},
               {"serial": "B", "phaseErrorDeg": [0.5], "insertionLossDb": [1.05]},
               {"serial": "C", "phaseErrorDeg": [0.5], "insertionLossDb": [1.2]},
               {"serial": "D", "phaseErrorDeg": [-6.3], "insertionLossDb": [1.0],
                "velocityFactor": 0.75, "trimAllowanceMm": 5, "lossDbPerM": [1]}]}
            """);

    JsonNode set = answer.get("sets").get(0);
    assertThat(answer.get("sets")).hasSize(1);
    assertThat(answer.get("unused")).isEqualTo(JSON.readTree("[\"C\"]"));
    assertThat(set.get("serials")).isEqualTo(JSON.readTree("[\"A\", \"B\"]"));
    assertThat(set.get("spares")).isEqualTo(JSON.readTree("[\"D\"]"));
    // From −6.3° to −1.5°, two below B
    assertThat(set.get("trimMm").get("D").asDouble()).isCloseTo(1, within(1e-9));
    assertThat(set.get("spreadDb").get(0).asDouble()).isCloseTo(0.051, within(1e-9));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      textBlock =
          """
          "setSize": 2         | "setSize": 1          | setSize
          "setSize": 2         | "setSize": null       | setSize
          "setSize": 2         | "setSize": 2, "spares": -1          | spares
          "setSize": 2         | "setSize": 2, "timeLimitMs": 0      | timeLimitMs
          "setSize": 2         | "setSize": 2, "timeLimitMs": 60001  | timeLimitMs
          "toleranceDeg": 1    | "toleranceDeg": 0     | frequencies[0].toleranceDeg
          "toleranceDeg": 1    | "toleranceDeg": 1, "lossSpreadDb": 0 | frequencies[0].lossSpreadDb
          "toleranceDeg": 1    | "toleranceDeg": 1, "lossSpreadDb": 1 | assemblies[0].insertionLossDb
          "frequencyHz": 1e9   | "frequencyHz": -1     | frequencies[0].frequencyHz
          "phaseErrorDeg": [7] | "phaseErrorDeg": [null] | assemblies[2].phaseErrorDeg[0]
          "phaseErrorDeg": [7] | "phaseErrorDeg": []   | assemblies[2].phaseErrorDeg
          "serial": "C"        | "serial": "A"         | assemblies[2].serial
          "serial": "C"        | "trimAllowanceMm": 1, "serial": "C" | assemblies[2].velocityFactor
          """)
  void namesTheFieldThatIsWrong(String good, String bad, String field) {
    HttpResponse<String> response =
        api.post("/api/v1/calculations/set-building", SMALL.replace(good, bad));

    assertThat(response.statusCode()).as(response.body()).isEqualTo(400);
    assertThat(ApiClient.json(response).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private JsonNode calculate(String request) {
    HttpResponse<String> response = api.post("/api/v1/calculations/set-building", request);
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    return ApiClient.json(response);
  }
}
