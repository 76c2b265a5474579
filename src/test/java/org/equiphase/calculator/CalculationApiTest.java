package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.rf.CsvRows;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/**
 * Validation of the calculation API: simulated lines and solved problems made with general-purpose
 * RF tools (their README files under src/test/resources name them), and published figures.
 */
@ExtendWith(RunningService.Extension.class)
class CalculationApiTest {

  private static final JsonMapper JSON = JsonMapper.shared();
  private static final double C = 299_792_458;

  private final ApiClient api;

  CalculationApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  static Stream<CsvRows.Row> trims() {
    return CsvRows.of("/trim/expected.csv");
  }

  @ParameterizedTest
  @MethodSource("trims")
  void trimsAsSimulated(CsvRows.Row row) {
    double difference = row.number("target_phase_deg") - row.number("measured_phase_deg");
    double turns = Math.floor(difference / 360);
    double wanted =
        switch (row.text("mode")) {
          case "absolute" -> difference;
          case "nearest" -> difference - 360 * Math.ceil((difference - 180) / 360);
          default -> difference - 360 * turns;
        };
    JsonNode answer =
        calculate(
            "trim",
            JSON.createObjectNode()
                .put("frequencyHz", row.number("f_Hz"))
                .put("velocityFactor", row.number("velocity_factor"))
                .put("phaseErrorDeg", -wanted)
                .put(
                    "method",
                    row.text("method").equals("transmission") ? "TRANSMISSION" : "REFLECTION"));
    // The cases' phases are written to 1e-9°, a few 1e-10 mm.
    assertThat(answer.get("trimMm").asDouble()).isCloseTo(row.number("trim_mm"), within(1e-8));
    assertThat(answer.get("trimIn").asDouble() * 25.4)
        .isCloseTo(answer.get("trimMm").asDouble(), within(1e-12));
  }

  static Stream<CsvRows.Row> stretchers() {
    return CsvRows.of("/stretcher/expected.csv");
  }

  @ParameterizedTest
  @MethodSource("stretchers")
  void turnsTheReflectionAsSimulated(CsvRows.Row row) {
    ObjectNode request =
        JSON.createObjectNode()
            .put("frequencyHz", row.number("f_Hz"))
            .put("referenceOhm", row.number("z0_ohm"))
            .put("addedLengthMm", row.number("added_length_mm"))
            .put("velocityFactor", 1.0)
            .put("attenuationDbPerM", 0.0);
    request
        .putObject("loadOhm")
        .put("re", row.number("load_re_ohm"))
        .put("im", row.number("load_im_ohm"));
    JsonNode answer = calculate("reflection", request);
    assertThat(answer.get("gamma").get("re").asDouble())
        .isCloseTo(row.number("gamma_re"), within(1e-9));
    assertThat(answer.get("gamma").get("im").asDouble())
        .isCloseTo(row.number("gamma_im"), within(1e-9));
    assertThat(answer.get("rotationDeg").asDouble())
        .isCloseTo(row.number("reflection_rotation_deg"), within(1e-6));
    if (!row.text("vswr").startsWith("inf")) {
      assertThat(answer.get("vswr").asDouble()).isCloseTo(row.number("vswr"), within(1e-9));
    }
  }

  static Stream<CsvRows.Row> lines() {
    return CsvRows.of("/lines/expected.csv");
  }

  @ParameterizedTest
  @MethodSource("lines")
  void readsSweepsAsSimulated(CsvRows.Row row) throws IOException {
    Multipart request =
        new Multipart()
            .file("file", row.text("file"), resource("/lines/" + row.text("file")))
            .field("method", row.text("method").toUpperCase(java.util.Locale.ROOT))
            .field("velocityFactor", row.text("velocity_factor"))
            .field("expectedLengthM", row.text("physical_length_m"));
    for (int k = 1; k <= 3; k++) {
      request.field("spotHz", row.text("f" + k + "_Hz"));
    }
    HttpResponse<String> response = api.upload("/api/v1/calculations/sweep", request);
    if (row.text("undersampled").equals("1")) {
      assertThat(response.statusCode()).isEqualTo(400);
      assertThat(ApiClient.json(response).get("detail").asString()).containsPattern("\\d+ points");
      return;
    }
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    JsonNode answer = ApiClient.json(response);
    double ripple = row.number("max_measured_ripple_deg");
    assertThat(answer.get("delayNs").asDouble())
        .isCloseTo(row.number("delay_fit_ns"), within(1e-9 * row.number("delay_fit_ns") + 1e-9));
    for (int k = 1; k <= 3; k++) {
      JsonNode spot = answer.get("spots").get(k - 1);
      boolean reflection = row.text("method").startsWith("reflection");
      double ended = row.text("method").equals("reflection_short") ? 180 : 0;
      double measured = row.number("measured_unwrapped_deg_" + k);
      double oneWay = reflection ? (measured - ended) / 2 : measured;
      assertThat(spot.get("totalPhaseDeg").asDouble()).isCloseTo(oneWay, within(1e-6));
      assertThat(spot.get("totalPhaseDeg").asDouble())
          .isCloseTo(row.number("s21_unwrapped_deg_" + k), within(ripple + 1e-6));
    }
  }

  static Stream<String> sets() {
    return IntStream.rangeClosed(1, 17).mapToObj(n -> String.format("s%02d", n));
  }

  @ParameterizedTest
  @MethodSource("sets")
  void solvesSetsToTheKnownOptimum(String id) throws IOException {
    JsonNode solved = JSON.readTree(resource("/sets/" + id + ".json"));
    ObjectNode request =
        JSON.createObjectNode()
            .put("basis", "SET")
            .put(
                "turns",
                solved.get("phase_mode").asString().equals("absolute") ? "ABSOLUTE" : "MODULO_360")
            .put("aimFraction", 1.0);
    ArrayNode frequencies = request.putArray("frequencies");
    for (JsonNode hertz : solved.get("frequencies_Hz")) {
      frequencies
          .addObject()
          .put("frequencyHz", hertz.asDouble())
          .put("toleranceDeg", solved.get("window_deg").asDouble() / 2)
          .put("guardDeg", 0);
    }
    boolean trim = solved.get("rework").get("type").asString().equals("trim");
    ArrayNode assemblies = request.putArray("assemblies");
    for (int i = 0; i < solved.get("phase_deg").size(); i++) {
      double most = solved.get("rework").get("max_mm").get(i).asDouble();
      ObjectNode assembly =
          assemblies
              .addObject()
              .put("serial", "A" + i)
              .put("velocityFactor", solved.get("velocity_factor").get(i).asDouble())
              .put("trimAllowanceMm", trim ? most : 0);
      assembly.set("phaseErrorDeg", solved.get("phase_deg").get(i));
      if (!trim) {
        assembly.putObject("stretcher").put("minMm", -most).put("maxMm", most);
      }
    }
    JsonNode answer = calculate("set-adjustment", request);
    JsonNode optimum = solved.get("optimum");
    assertThat(answer.get("proven").asBoolean()).isTrue();
    if (!optimum.get("feasible").asBoolean()) {
      assertThat(answer.get("outcome").asString()).isEqualTo("NEEDS_REPLACEMENT");
      return;
    }
    assertThat(answer.get("replaced").asInt()).isZero();
    assertThat(answer.get("adjusted").asInt()).isEqualTo(optimum.get("min_reworked").asInt());
    // Totals are rounded to 1e-6 mm; their README asks for 1e-3 mm.
    assertThat(answer.get("totalTrimMm").asDouble())
        .isCloseTo(optimum.get("min_total_mm").asDouble(), within(1e-3));
  }

  /** Quarter wave: Z0²/ZL (any transmission-line text); half wave: the load again. */
  @ParameterizedTest
  @CsvSource({"25, 0.25, 100", "100, 0.25, 25", "75, 0.25, 33.33333333", "100, 0.5, 100"})
  void transformsAsTextbooksSay(double loadOhm, double wavelengths, double seenOhm) {
    ObjectNode request =
        JSON.createObjectNode()
            .put("frequencyHz", 950e6)
            .put("referenceOhm", 50)
            .put("addedLengthMm", wavelengths * C / 950e6 * 1e3)
            .put("velocityFactor", 1)
            .put("attenuationDbPerM", 0);
    request.putObject("loadOhm").put("re", loadOhm).put("im", 0);
    JsonNode answer = calculate("reflection", request);
    assertThat(answer.get("impedanceOhm").get("re").asDouble()).isCloseTo(seenOhm, within(1e-6));
    assertThat(answer.get("rotationDeg").asDouble()).isCloseTo(-720 * wavelengths, within(1e-9));
  }

  /** VSWR 2 is 9.542 dB of return loss (standard relation, RL = −20·log10((s−1)/(s+1))). */
  @Test
  void answersNullForAnInfiniteValue() {
    ObjectNode matched = reflectionOf(50);
    assertThat(calculate("reflection", matched).get("returnLossDb").isNull()).isTrue();
    ObjectNode shorted = reflectionOf(0);
    assertThat(calculate("reflection", shorted).get("vswr").isNull()).isTrue();
    assertThat(calculate("reflection", reflectionOf(100)).get("returnLossDb").asDouble())
        .isCloseTo(9.542, within(5e-4));
  }

  @Test
  void setsAFoldedStretcher() {
    JsonNode answer =
        calculate(
            "stretcher",
            JSON.readTree(
                """
                {"geometry": "FOLDED", "frequencyHz": 950e6, "phaseErrorDeg": 10,
                 "method": "TRANSMISSION", "airIndex": 1.0, "minMm": 0, "maxMm": 280,
                 "resolutionMm": 0.5, "currentMm": 40}
                """));
    // 0.876586 mm of air line per degree at 950 MHz; half of it on each leg of a folded line.
    assertThat(answer.get("settingMm").asDouble()).isEqualTo(44.5);
    assertThat(answer.get("slideMm").asDouble()).isEqualTo(4.5);
    assertThat(answer.get("residualDeg").asDouble()).isCloseTo(10 - 9 / 0.876586, within(1e-5));
    assertThat(answer.get("reachable").asBoolean()).isTrue();
    assertThat(answer.get("turns").asInt()).isZero();
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "trim | {} | frequencyHz",
        "trim | {\"frequencyHz\": 0, \"velocityFactor\": 0.7, \"phaseErrorDeg\": 1, \"method\": \"TRANSMISSION\"} | frequencyHz",
        "trim | {\"frequencyHz\": -1, \"velocityFactor\": 0.7, \"phaseErrorDeg\": 1, \"method\": \"TRANSMISSION\"} | frequencyHz",
        "trim | {\"frequencyHz\": 1e9, \"velocityFactor\": 1.2, \"phaseErrorDeg\": 1, \"method\": \"TRANSMISSION\"} | velocityFactor",
        "trim | {\"frequencyHz\": 1e9, \"velocityFactor\": 0.7, \"phaseErrorDeg\": 1e999, \"method\": \"TRANSMISSION\"} | phaseErrorDeg",
        "trim | {\"frequencyHz\": 1e9, \"velocityFactor\": 0.7, \"phaseErrorDeg\": \"NaN\", \"method\": \"TRANSMISSION\"} | phaseErrorDeg",
        "trim | {\"frequencyHz\": 1e9, \"velocityFactor\": 0.7, \"phaseErrorDeg\": 1, \"method\": \"BOTH\"} | method",
        "stretcher | {\"geometry\": \"FOLDED\", \"frequencyHz\": 1e9, \"phaseErrorDeg\": 1, \"method\": \"TRANSMISSION\", \"airIndex\": 1, \"minMm\": 0, \"maxMm\": 10, \"resolutionMm\": 0, \"currentMm\": 5} | resolutionMm",
        "stretcher | {\"geometry\": \"FOLDED\", \"frequencyHz\": 1e9, \"phaseErrorDeg\": 1, \"method\": \"TRANSMISSION\", \"airIndex\": 1, \"minMm\": 0, \"maxMm\": 10, \"resolutionMm\": 1, \"currentMm\": 15} | currentMm",
        "reflection | {\"frequencyHz\": 1e9, \"referenceOhm\": 0, \"loadOhm\": {\"re\": 1, \"im\": 0}, \"addedLengthMm\": 1, \"velocityFactor\": 1, \"attenuationDbPerM\": 0} | referenceOhm",
        "reflection | {\"frequencyHz\": 1e9, \"referenceOhm\": 50, \"loadOhm\": {\"re\": 1}, \"addedLengthMm\": 1, \"velocityFactor\": 1, \"attenuationDbPerM\": 0} | loadOhm.im",
        "set-adjustment | {\"basis\": \"SET\", \"turns\": \"ABSOLUTE\", \"aimFraction\": 1, \"velocityFactor\": 0.7, \"frequencies\": [{\"frequencyHz\": 1e9, \"toleranceDeg\": -3, \"guardDeg\": 0}], \"assemblies\": [{\"serial\": \"A\", \"phaseErrorDeg\": [1], \"trimAllowanceMm\": 1}]} | frequencies[0].toleranceDeg",
        "set-adjustment | {\"basis\": \"SET\", \"turns\": \"ABSOLUTE\", \"aimFraction\": 1, \"velocityFactor\": 0.7, \"frequencies\": [{\"frequencyHz\": 1e9, \"toleranceDeg\": 3, \"guardDeg\": 0}], \"assemblies\": [{\"serial\": \"A\", \"phaseErrorDeg\": [null], \"trimAllowanceMm\": 1}]} | assemblies[0].phaseErrorDeg[0]",
        "set-adjustment | {\"basis\": \"SET\", \"turns\": \"ABSOLUTE\", \"velocityFactor\": 0.7, \"frequencies\": [{\"frequencyHz\": 1e9, \"toleranceDeg\": 3, \"guardDeg\": 0}], \"assemblies\": [{\"serial\": \"A\", \"phaseErrorDeg\": [1], \"trimAllowanceMm\": 1}]} | aimFraction",
      })
  void badNumbersAreNamed(String calculation, String body, String field) {
    HttpResponse<String> refused = api.post("/api/v1/calculations/" + calculation, body);
    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    assertThat(refused.headers().firstValue("Content-Type").orElse(""))
        .startsWith("application/problem+json");
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  @Test
  void badFilesAreNamed() {
    String head = "# GHZ S RI R 50\n";
    assertRefused("x.s2p", head + "1.0 0.1 0 0.9 0 0.9 0 0.1\n", "line 2");
    assertRefused("x.s2p", head + "1.0 nan 0 0.9 0 0.9 0 0.1 0\n", "line 2");
    assertRefused("x.s2p", head + "-1.0 0 0 0.9 0 0.9 0 0.1 0\n", "line 2");
    assertRefused("x.s2p", "\u0000\u0001binary", "line 1");
    assertRefused("x.s2p", "# GHZ Q RI R 50\n1 0 0 1 0 1 0 0 0\n", "line 1");
    assertRefused("x.s2p", "[Version] 9.0\n", "line 1");
    assertRefused("x.s1p", head + "1.0 0.1 0\n2.0 0.1 0\n", "one port");
    assertRefused("x.s2p", "", "");
  }

  private void assertRefused(String name, String content, String said) {
    HttpResponse<String> refused =
        api.upload(
            "/api/v1/calculations/sweep",
            new Multipart()
                .file("file", name, content.getBytes(java.nio.charset.StandardCharsets.ISO_8859_1))
                .field("method", "TRANSMISSION")
                .field("velocityFactor", "0.7")
                .field("spotHz", "1e9"));
    assertThat(refused.statusCode()).as(content + refused.body()).isEqualTo(400);
    JsonNode error = ApiClient.json(refused).get("errors").get(0);
    assertThat(error.get("field").asString()).isEqualTo("file");
    assertThat(error.get("message").asString()).contains(said);
  }

  private static ObjectNode reflectionOf(double loadOhm) {
    ObjectNode request =
        JSON.createObjectNode()
            .put("frequencyHz", 1e9)
            .put("referenceOhm", 50)
            .put("addedLengthMm", 0)
            .put("velocityFactor", 1)
            .put("attenuationDbPerM", 0);
    request.putObject("loadOhm").put("re", loadOhm).put("im", 0);
    return request;
  }

  private JsonNode calculate(String calculation, JsonNode request) {
    HttpResponse<String> answer =
        api.post("/api/v1/calculations/" + calculation, request.toString());
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }

  private static byte[] resource(String name) throws IOException {
    try (InputStream stream = CalculationApiTest.class.getResourceAsStream(name)) {
      return java.util.Objects.requireNonNull(stream, name).readAllBytes();
    }
  }
}
