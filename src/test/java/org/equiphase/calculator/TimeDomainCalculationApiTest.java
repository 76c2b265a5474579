package org.equiphase.calculator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Objects;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/**
 * The time-domain view over HTTP, of a line simulated with scikit-rf (src/test/resources/lines).
 */
@ExtendWith(RunningService.Extension.class)
class TimeDomainCalculationApiTest {

  private final ApiClient api;

  TimeDomainCalculationApiTest(RunningService service) {
    api = service.api(Role.TECHNICIAN);
  }

  @Test
  void showsTheConnectorsOfASimulatedLine() throws IOException {
    HttpResponse<String> response =
        send(
            new Multipart()
                .file("file", "t17.s2p", line())
                .field("velocityFactor", "0.8435")
                .field("window", "KAISER"));
    assertThat(response.statusCode()).as(response.body()).isEqualTo(200);
    JsonNode answer = ApiClient.json(response);
    double resolutionMm = answer.get("resolutionMm").asDouble();
    // The line is 1.9434 m long; v·c/(2·10 MHz) = 12.644 m.
    assertThat(answer.get("aliasFreeMm").asDouble()).isCloseTo(12643.7, within(0.1));
    assertThat(answer.get("peaks").get(0).get("distanceMm").asDouble())
        .isCloseTo(0, within(resolutionMm));
    assertThat(answer.get("peaks").get(1).get("distanceMm").asDouble())
        .isCloseTo(1943.4, within(resolutionMm));
    assertThat(answer.get("beta").asDouble()).isEqualTo(6);
    assertThat(answer.get("distanceMm").size()).isEqualTo(answer.get("reflection").size());
  }

  @Test
  void badRequestsAreNamed() throws IOException {
    assertRefused(
        "beta",
        new Multipart()
            .file("file", "t17.s2p", line())
            .field("velocityFactor", "0.8")
            .field("window", "HANN")
            .field("beta", "3"));
    assertRefused(
        "window",
        new Multipart()
            .file("file", "t17.s2p", line())
            .field("velocityFactor", "0.8")
            .field("window", "ROUND"));
    assertRefused(
        "velocityFactor",
        new Multipart()
            .file("file", "t17.s2p", line())
            .field("velocityFactor", "1.8")
            .field("window", "HANN"));
    StringBuilder uneven = new StringBuilder("# MHZ S RI R 50\n");
    for (int k = 1; k <= 10; k++) {
      uneven.append(k * k).append(" 0.5 0\n");
    }
    assertRefused(
        "file",
        new Multipart()
            .file("file", "x.s1p", uneven.toString().getBytes(StandardCharsets.US_ASCII))
            .field("velocityFactor", "0.8")
            .field("window", "RECTANGULAR"));
  }

  private void assertRefused(String field, Multipart request) {
    HttpResponse<String> refused = send(request);
    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private HttpResponse<String> send(Multipart request) {
    return api.upload("/api/v1/calculations/time-domain", request);
  }

  private static byte[] line() throws IOException {
    try (InputStream stream =
        TimeDomainCalculationApiTest.class.getResourceAsStream("/lines/t17.s2p")) {
      return Objects.requireNonNull(stream).readAllBytes();
    }
  }
}
