package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.array.ArrayCase;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Validation of the array calculations over HTTP, against solved cases and textbook figures. */
@ExtendWith(RunningService.Extension.class)
class ArrayCalculationApiTest {

  private static final JsonMapper JSON = JsonMapper.shared();

  private final ApiClient api;

  ArrayCalculationApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  static Stream<ArrayCase> solved() {
    return ArrayCase.all();
  }

  @ParameterizedTest
  @MethodSource("solved")
  void answersTheSolvedCases(ArrayCase solved) {
    ObjectNode request =
        JSON.createObjectNode()
            .put("spacingWavelengths", 0.5)
            .put("steerDeg", solved.expected().number("steer_deg"));
    request.set("taper", JSON.valueToTree(solved.taper()));
    request.set("phaseErrorDeg", JSON.valueToTree(solved.phaseErrorDeg()));

    JsonNode answer = calculate("array-effect", request.toString());

    String[] names = {
      "gainLossDb", "gain_loss_dB",
      "peakGainLossDb", "peak_gain_loss_dB",
      "beamShiftDeg", "pointing_shift_deg",
      "peakSidelobeDb", "peak_sidelobe_dB",
      "idealPeakSidelobeDb", "error_free_sidelobe_dB",
      "ruleOfThumbLossDb", "exp_sigma2_loss_dB"
    };
    for (int i = 0; i < names.length; i += 2) {
      assertThat(answer.get(names[i]).asDouble())
          .as(names[i])
          .isCloseTo(solved.expected().number(names[i + 1]), within(1e-7));
    }
    assertThat(answer.size()).isEqualTo(names.length / 2);
  }

  /** Ten elements at −26 dB keep −26 dB (the textbook design of TaperTest). */
  @Test
  void computesTapersAndTakesPositions() {
    JsonNode answer =
        calculate(
            "array-effect",
            """
            {"positionsWavelengths": [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5], "steerDeg": 10,
             "taperDesign": {"kind": "CHEBYSHEV", "elements": 10, "sidelobeDb": -26},
             "phaseErrorDeg": [0, 0, 0, 0, 0, 0, 0, 0, 0, 0]}
            """);
    assertThat(answer.get("idealPeakSidelobeDb").asDouble()).isCloseTo(-26, within(1e-7));
    assertThat(answer.get("gainLossDb").asDouble()).isZero();
  }

  @Test
  void answersNullForWhatThereIsNot() {
    JsonNode answer =
        calculate(
            "array-effect",
            """
            {"spacingWavelengths": 0.5, "steerDeg": 0, "taper": [1, 1], "phaseErrorDeg": [0, 180]}
            """);
    assertThat(answer.get("gainLossDb").isNull()).isTrue();
    JsonNode single =
        calculate(
            "array-effect",
            """
            {"spacingWavelengths": 0.5, "steerDeg": 0, "taper": [1], "phaseErrorDeg": [0]}
            """);
    assertThat(single.get("peakSidelobeDb").isNull()).isTrue();
  }

  /** The uniform line of eight's first sidelobe, −12.797 dB, in the planes of a grid of 8 × 8. */
  @Test
  void answersPlanarArrays() {
    ObjectNode request =
        JSON.createObjectNode()
            .put("rows", 8)
            .put("columns", 8)
            .put("rowSpacingWavelengths", 0.5)
            .put("columnSpacingWavelengths", 0.5)
            .put("thetaDeg", 20)
            .put("phiDeg", 45);
    request.putObject("rowTaperDesign").put("kind", "UNIFORM").put("elements", 8);
    request
        .putObject("columnTaperDesign")
        .put("kind", "TAYLOR")
        .put("elements", 8)
        .put("sidelobeDb", -25)
        .put("nBar", 3);
    request.set("phaseErrorDeg", JSON.valueToTree(new double[64]));
    JsonNode answer = calculate("array-effect-planar", request.toString());
    assertThat(answer.get("idealPeakSidelobeDb").asDouble()).isCloseTo(-12.797, within(6e-4));
    assertThat(answer.get("peakThetaDeg").asDouble()).isCloseTo(20, within(1e-8));
    assertThat(answer.get("peakPhiDeg").asDouble()).isCloseTo(45, within(1e-8));

    JsonNode square =
        calculate(
            "array-effect-planar",
            """
            {"xWavelengths": [0, 0.5, 0, 0.5], "yWavelengths": [0, 0, 0.5, 0.5], "thetaDeg": 0,
             "phiDeg": 0, "taper": [1, 1, 1, 1], "phaseErrorDeg": [0, 60, 0, 60]}
            """);
    // A lead of 60° along x is 60 of 180·sin θ degrees, towards −x.
    assertThat(square.get("peakThetaDeg").asDouble())
        .isCloseTo(Math.toDegrees(Math.asin(1 / 3.0)), within(1e-7));
    assertThat(Math.abs(square.get("peakPhiDeg").asDouble())).isCloseTo(180, within(1e-5));
  }

  @Test
  void designsTolerances() {
    String request =
        """
        {"spacingWavelengths": 0.5, "steerDeg": 0, "distribution": "UNIFORM",
         "taperDesign": {"kind": "TAYLOR", "elements": 16, "sidelobeDb": -30, "nBar": 5},
         "sidelobeLimitDb": -25, "probability": 0.9, "trials": 500, "seed": 3}
        """;
    JsonNode answer = calculate("array-tolerance", request);
    assertThat(answer.get("toleranceDeg").asDouble()).isBetween(4.0, 8.0);
    assertThat(answer.get("distribution").asString()).isEqualTo("UNIFORM");
    assertThat(answer.get("probability").asDouble())
        .isBetween(
            answer.get("probabilityLower").asDouble(), answer.get("probabilityUpper").asDouble());
    assertThat(calculate("array-tolerance", request)).isEqualTo(answer);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "array-effect | {\"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0]} | spacingWavelengths",
        "array-effect | {\"spacingWavelengths\": 0.5, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0]} | steerDeg",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"phaseErrorDeg\": [0, 0]} | taper",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1]} | phaseErrorDeg",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0]} | phaseErrorDeg",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 1e999]} | phaseErrorDeg[1]",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, \"NaN\"], \"phaseErrorDeg\": [0, 0]} | taper[1]",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, -1], \"phaseErrorDeg\": [0, 0]} | taper[1]",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, null], \"phaseErrorDeg\": [0, 0]} | taper[1]",
        "array-effect | {\"spacingWavelengths\": -0.5, \"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0]} | spacingWavelengths",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 90.1, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0]} | steerDeg",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [], \"phaseErrorDeg\": []} | taper",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0], \"gain\": 1} | gain",
        "array-effect | {\"spacingWavelengths\": 0.5, \"positionsWavelengths\": [0, 1], \"steerDeg\": 0, \"taper\": [1, 1], \"phaseErrorDeg\": [0, 0]} | positionsWavelengths",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1], \"taperDesign\": {\"kind\": \"UNIFORM\", \"elements\": 1}, \"phaseErrorDeg\": [0]} | taperDesign",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taperDesign\": {\"kind\": \"TAYLOR\", \"elements\": 2, \"sidelobeDb\": 30, \"nBar\": 2}, \"phaseErrorDeg\": [0, 0]} | taperDesign.sidelobeDb",
        "array-effect | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taperDesign\": {\"kind\": \"TAYLOR\", \"elements\": 2, \"sidelobeDb\": -30}, \"phaseErrorDeg\": [0, 0]} | taperDesign.nBar",
        "array-effect-planar | {\"rows\": 2, \"rowSpacingWavelengths\": 1, \"columnSpacingWavelengths\": 1, \"thetaDeg\": 0, \"phiDeg\": 0, \"taper\": [1, 1, 1, 1], \"phaseErrorDeg\": [0, 0, 0, 0]} | columns",
        "array-effect-planar | {\"thetaDeg\": 0, \"phiDeg\": 0, \"taper\": [1, 1, 1, 1], \"phaseErrorDeg\": [0, 0, 0, 0]} | xWavelengths",
        "array-effect-planar | {\"rows\": 2, \"columns\": 2, \"rowSpacingWavelengths\": 1, \"columnSpacingWavelengths\": 1, \"xWavelengths\": [1], \"thetaDeg\": 0, \"phiDeg\": 0, \"taper\": [1, 1, 1, 1], \"phaseErrorDeg\": [0, 0, 0, 0]} | xWavelengths",
        "array-tolerance | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1, 1, 1], \"sidelobeLimitDb\": -10, \"probability\": 0.9} | distribution",
        "array-tolerance | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1, 1, 1], \"distribution\": \"NORMAL\", \"sidelobeLimitDb\": -13, \"probability\": 0.9} | sidelobeLimitDb",
        "array-tolerance | {\"spacingWavelengths\": 0.5, \"steerDeg\": 0, \"taper\": [1, 1, 1, 1], \"distribution\": \"NORMAL\", \"sidelobeLimitDb\": -10, \"probability\": 0.9, \"trials\": 10} | trials",
      })
  void badNumbersAreNamed(String calculation, String body, String field) {
    HttpResponse<String> refused = api.post("/api/v1/calculations/" + calculation, body);
    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private JsonNode calculate(String calculation, String request) {
    HttpResponse<String> answer = api.post("/api/v1/calculations/" + calculation, request);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }
}
