package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Figures are worked by hand. */
@ExtendWith(RunningService.Extension.class)
class SetAgreementApiTest {

  private final ApiClient api;

  SetAgreementApiTest(RunningService service) {
    api = service.api(Role.PLANNER);
  }

  /** 5000° and 5500° at 400 ppm move by 2.0° and 2.2°. */
  @Test
  void cablesOfUnlikeLengthComeApart() {
    HttpResponse<String> answer =
        api.post(
            "/api/v1/calculations/temperature-tracking",
            """
            {"cables": [
              {"curve": [{"temperatureC": -20, "lengthPpm": 400}, {"temperatureC": 20, "lengthPpm": 0}],
               "totalPhaseDeg": -5000},
              {"curve": [{"temperatureC": -20, "lengthPpm": 400}, {"temperatureC": 20, "lengthPpm": 0}],
               "totalPhaseDeg": -5500}],
             "referenceC": 20, "lowC": -20, "highC": 20}
            """);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    JsonNode spread = ApiClient.json(answer);
    assertThat(spread.get("spreadDeg").asDouble()).isCloseTo(0.2, within(1e-9));
    assertThat(spread.get("temperatureC").asDouble()).isEqualTo(-20);
  }

  @Test
  void aMissingCurveIsNamed() {
    HttpResponse<String> answer =
        api.post(
            "/api/v1/calculations/temperature-tracking",
            """
            {"cables": [{"totalPhaseDeg": -5000}], "referenceC": 20, "lowC": -20, "highC": 20}
            """);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("cables[0].curve");
  }

  @Test
  void theMemberThatDoesNotGoWithTheOthersIsNamed() {
    HttpResponse<String> answer =
        api.post(
            "/api/v1/calculations/loss-agreement",
            """
            {"limits": [{"frequencyHz": 2.8e9, "spreadLimitDb": 0.2}],
             "members": [{"serial": "A", "lossDb": [1.10]}, {"serial": "B", "lossDb": [1.22]},
                         {"serial": "C", "lossDb": [1.55]}]}
            """);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    JsonNode agreement = ApiClient.json(answer);
    assertThat(agreement.get("outsiders").get(0).get("serial").asString()).isEqualTo("C");
    assertThat(agreement.get("outsiders").get(0).get("excessDb").asDouble())
        .isCloseTo(0.25, within(1e-9));
    assertThat(agreement.get("spreadDb").get(0).asDouble()).isCloseTo(0.12, within(1e-9));
  }
}
