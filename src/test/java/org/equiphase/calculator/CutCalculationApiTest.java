package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

/** Cut plans and velocity-factor learning over HTTP. */
@ExtendWith(RunningService.Extension.class)
class CutCalculationApiTest {

  private static final String PLAN =
      """
      {"spots": [{"frequencyHz": 2.8e9, "phaseErrorDeg": -24.2, "acceptanceDeg": 2,
                  "readingStandardUncertaintyDeg": 0.3}],
       "estimate": {"velocityFactor": 0.695, "standardUncertainty": 0},
       "cutStandardUncertaintyMm": 0.1, "cutResolutionMm": 0.1, "trimAllowanceMm": 20}
      """;

  private static final String CUTS =
      """
      {"prior": {"velocityFactor": 0.695, "halfWidth": 0.01},
       "cuts": [{"serial": "A1", "cutMm": 10, "cutStandardUncertaintyMm": 0.1,
                 "changes": [{"frequencyHz": 2.8e9, "phaseChangeDeg": 48.0332,
                              "standardUncertaintyDeg": 0.4}]}]}
      """;

  private final ApiClient api;

  CutCalculationApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  /** One millimetre is 4.84° (conventions of the trade: 360·f·d/(v·c)), so 24.2° is 5.0 mm. */
  @Test
  void plansACut() {
    JsonNode plan = calculate("cut-plan", PLAN);
    assertThat(plan.get("reason").asString()).isEqualTo("CUT");
    assertThat(plan.get("cutMm").asDouble()).isEqualTo(5.0);
    assertThat(plan.get("staged").asBoolean()).isFalse();
    // sd = √(0.3² + 0.484²) = 0.569°, so 2° is 3.51 sd: 0.99956 lie within.
    assertThat(plan.get("probabilityIn").asDouble()).isCloseTo(0.99956, within(2e-5));
    assertThat(plan.get("spots").get(0).get("standardUncertaintyDeg").asDouble())
        .isCloseTo(0.569, within(1e-3));
    assertThat(plan.get("expectedCuts").asDouble()).isBetween(1.0, 1.01);
  }

  /** p = 48.0332/(360·2.8e9/c·10 mm) is 1/0.7; with a cut of 10.0 ± 0.1 mm, ±1.3 % of it. */
  @Test
  void learnsAVelocityFactor() {
    JsonNode learned = calculate("velocity-factor", CUTS);
    JsonNode cut = learned.get("cuts").get(0);
    assertThat(cut.get("impliedVelocityFactor").asDouble()).isCloseTo(0.7, within(1e-5));
    assertThat(cut.get("impliedStandardUncertainty").asDouble())
        .isCloseTo(0.7 * Math.hypot(0.01, 0.4 / 48.0332), within(1e-4));
    assertThat(cut.get("used").asBoolean()).isTrue();
    assertThat(learned.get("estimate").get("velocityFactor").asDouble()).isBetween(0.695, 0.7);
    assertThat(learned.get("estimate").get("standardUncertainty").asDouble())
        .isLessThan(0.01 / Math.sqrt(3));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "\"frequencyHz\": 2.8e9 | \"frequencyHz\": 0 | spots[0].frequencyHz",
        "\"frequencyHz\": 2.8e9, | '' | spots[0].frequencyHz",
        "\"acceptanceDeg\": 2 | \"acceptanceDeg\": -2 | spots[0].acceptanceDeg",
        "\"velocityFactor\": 0.695 | \"velocityFactor\": 1.2 | estimate.velocityFactor",
        "\"standardUncertainty\": 0 | \"standardUncertainty\": -1 | estimate.standardUncertainty",
        ", \"standardUncertainty\": 0 | '' | estimate.standardUncertainty",
        "\"trimAllowanceMm\": 20 | \"trimAllowanceMm\": 1e999 | trimAllowanceMm",
        "\"trimAllowanceMm\": 20 | \"trimAllowanceMm\": 20, \"tooShortLimit\": 1 | tooShortLimit",
        "\"trimAllowanceMm\": 20 | \"trimAllowanceMm\": 20, \"maxCuts\": 0 | maxCuts",
      })
  void namesTheFieldOfAPlan(String from, String to, String field) {
    refused("cut-plan", PLAN, from, to, field);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "\"halfWidth\": 0.01 | \"halfWidth\": -0.01 | prior.halfWidth",
        "\"cutMm\": 10 | \"cutMm\": 0 | cuts[0].cutMm",
        "\"serial\": \"A1\", | '' | cuts[0].serial",
        "\"standardUncertaintyDeg\": 0.4 | \"standardUncertaintyDeg\": 0 | cuts[0].changes[0].standardUncertaintyDeg",
        "\"cuts\": [ | \"outlierLimit\": 0, \"cuts\": [ | outlierLimit",
      })
  void namesTheFieldOfACut(String from, String to, String field) {
    refused("velocity-factor", CUTS, from, to, field);
  }

  private void refused(String calculation, String body, String from, String to, String field) {
    assertThat(body).contains(from);
    HttpResponse<String> answer =
        api.post("/api/v1/calculations/" + calculation, body.replace(from, to));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
    assertThat(ApiClient.json(answer).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private JsonNode calculate(String calculation, String body) {
    HttpResponse<String> answer = api.post("/api/v1/calculations/" + calculation, body);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }
}
