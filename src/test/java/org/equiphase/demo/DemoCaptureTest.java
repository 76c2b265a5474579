package org.equiphase.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.util.List;
import java.util.Locale;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.workorder.WorkOrders;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ObjectNode;

/** The demo shop's benches can be captured from, in a service of its own, since this changes it. */
class DemoCaptureTest {

  private static RunningService service;

  @BeforeAll
  static void open() {
    service = RunningService.start("equiphase.demo-accounts=true", "equiphase.demo-data=true");
  }

  @AfterAll
  static void close() {
    service.close();
  }

  /** What was read before is read again, within the bench's drift, noise and connectors' ripple. */
  @Test
  void aCableReadBeforeIsReadAgain() {
    for (List<String> each :
        List.of(
            List.of("SW-A-001", "Bench 1, S-band"),
            List.of("UH-003", "Bench 2, reflection"),
            List.of("XJ-007", "Bench 3, X-band"))) {
      double beforeDeg = phaseDeg(latest(each.get(0)));

      JsonNode captured = capture(each.get(0), each.get(1));

      assertThat(captured.get("phaseModuloDeg").isNull()).isTrue();
      assertThat(phaseDeg(latest(each.get(0)))).as(each.get(0)).isCloseTo(beforeDeg, within(1.5));
    }
  }

  /** A cut of d turns the phase by 360·f·d/(v·c), from the cable as it was captured before. */
  @Test
  void aCutCableIsCapturedShorter() {
    for (int i = 1; i <= 16; i++) {
      capture(String.format(Locale.ROOT, "SW-B-%03d", i), "Bench 1, S-band");
    }
    JsonNode instruction = anInstructedCut();
    String serial = instruction.get("serial").asString();
    double beforeDeg = phaseDeg(latest(serial));
    HttpResponse<String> signedOff =
        service
            .api(Role.TECHNICIAN)
            .post(
                "/api/v1/instructions/" + instruction.get("id").asLong() + "/sign-off",
                "{\"version\": %d, \"doneTrimMm\": %s}"
                    .formatted(
                        instruction.get("version").asInt(), instruction.get("trimMm").asDouble()));
    assertThat(signedOff.statusCode()).as(signedOff.body()).isEqualTo(200);

    capture(serial, "Bench 1, S-band");

    double turnedDeg =
        360 * 2.8e9 * instruction.get("trimMm").asDouble() / 1e3 / (0.695 * 299_792_458.0);
    assertThat(phaseDeg(latest(serial)) - beforeDeg).isCloseTo(turnedDeg, within(0.4));
  }

  private static JsonNode anInstructedCut() {
    WorkOrders orders = service.bean(WorkOrders.class);
    long orderId = orders.orderByNumber("QCW-1001").id();
    long setId =
        orders.setsOf(orderId).stream()
            .filter(set -> set.name().equals("Panel B"))
            .findFirst()
            .orElseThrow()
            .id();
    JsonNode plan = ApiClient.json(service.api(Role.TECHNICIAN).get("/api/v1/sets/" + setId));
    for (JsonNode member : plan.get("members")) {
      JsonNode current = member.get("current");
      if (current != null && !current.isNull() && current.get("action").asString().equals("TRIM")) {
        ((ObjectNode) current).set("serial", member.get("assembly").get("serial"));
        return current;
      }
    }
    throw new AssertionError("no cut is asked for");
  }

  private static JsonNode capture(String serial, String benchName) {
    Bench bench = service.bean(Catalog.class).benchByName(benchName).orElseThrow();
    HttpResponse<String> answer =
        service
            .api(Role.TECHNICIAN)
            .post(
                "/api/v1/readings/captures",
                "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 22.5}"
                    .formatted(serial, bench.id()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  private static Reading latest(String serial) {
    return service
        .bean(Readings.class)
        .latest(service.bean(WorkOrders.class).assemblyBySerial(serial).id())
        .orElseThrow();
  }

  private static double phaseDeg(Reading reading) {
    return reading.spots().get(reading.spots().size() / 2).phaseDeg();
  }
}
