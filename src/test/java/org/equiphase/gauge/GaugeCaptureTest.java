package org.equiphase.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.net.http.HttpResponse;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.demo.SimulatedAnalyzer;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Values of a gauge study that the service takes from the bench's instrument. */
@ExtendWith(RunningService.Extension.class)
class GaugeCaptureTest {

  private static final double LENGTH_MM = 1004.25;
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final RunningService service;
  private final SmallShop shop;
  private final ApiClient looking;
  private SimulatedAnalyzer analyzer;

  GaugeCaptureTest(RunningService service) {
    this.service = service;
    shop = new SmallShop(service);
    looking = service.api(service.bean(ApiTokens.class).add("qa2", "gauge", null).secret());
  }

  @BeforeEach
  void start() throws IOException {
    analyzer =
        SimulatedAnalyzer.start(
            0, (message, answer, socket) -> socket.getOutputStream().write(answer));
    analyzer.connect(GaugeCaptureTest::line, 2.6e9, 3.0e9, 101);
  }

  @AfterEach
  void stop() {
    analyzer.close();
  }

  private static double lineDeg(double hertz) {
    return -SmallShop.degPerMm() * LENGTH_MM * hertz / SmallShop.FREQUENCY_HZ;
  }

  /** A line of known length and 1.2 dB of loss, its reflection small. */
  private static Complex line(String parameter, double hertz) {
    return parameter.equals("S21")
        ? Complex.ofPolarDeg(Math.pow(10, -1.2 / 20), lineDeg(hertz))
        : Complex.of(0.05, 0);
  }

  /** −360·f·L/(v·c), at a point of the sweep and, 1.1 MHz on, between two. */
  @Test
  void theValueIsWhatTheInstrumentShows() {
    connect();
    for (double hertz : new double[] {2.8e9, 2.8011e9}) {
      long id = plan(hertz);
      JsonNode asked = asked(id);
      HttpResponse<String> taken = capture(id, asked.get("turn").asInt(), serial(asked));
      assertThat(taken.statusCode()).as(taken.body()).isEqualTo(200);
      assertThat(taken.body()).doesNotContain("phaseDeg");
      JsonNode values = ApiClient.json(looking.get("/api/v1/gauge-studies/" + id + "/values"));
      assertThat(values).hasSize(1);
      assertThat(values.get(0).get("captured").asBoolean()).isTrue();
      double shown = values.get(0).get("phaseDeg").asDouble();
      assertThat(shown).isBetween(-180.0, 180.0);
      assertThat(Math.IEEEremainder(shown - lineDeg(hertz), 360)).isCloseTo(0, within(1e-6));
      assertThat(asked(id).get("turn").asInt()).isEqualTo(2);
    }
    for (int i = 1; i <= 2; i++) {
      assertThat(shop.technician.get("/api/v1/readings?serial=" + shop.serial(i)).body())
          .isEqualTo("[]");
    }
  }

  @Test
  void aSweepWithoutTheFrequencyIsRefused() {
    connect();
    analyzer.connect(GaugeCaptureTest::line, 2.9e9, 3.0e9, 101);
    long id = plan(2.8e9);
    HttpResponse<String> refused = capture(id, 1, serial(asked(id)));
    assertThat(refused.statusCode()).isEqualTo(409);
    assertThat(refused.body()).contains("2.9 GHz to 3 GHz, and 2.8 GHz is not in it");
    assertThat(asked(id).get("turn").asInt()).isEqualTo(1);
  }

  /** Neither a part that is not asked for, nor a turn that is over, reaches the instrument. */
  @Test
  void theInstrumentIsAskedForWhatTheStudyAsksOnly() {
    connect();
    long id = plan(2.8e9);
    String asked = serial(asked(id));
    String other = asked.equals(shop.serial(1)) ? shop.serial(2) : shop.serial(1);
    analyzer.connect(
        (parameter, hertz) -> {
          throw new AssertionError("asked for " + parameter);
        },
        2.6e9,
        3.0e9,
        101);
    assertThat(capture(id, 1, other).statusCode()).isEqualTo(400);
    assertThat(capture(id, 2, asked).statusCode()).isEqualTo(409);
  }

  @Test
  void anInstrumentThatIsOffStoresNothingAndOneWithoutConnectionIsSaid() {
    long id = plan(2.8e9);
    String asked = serial(asked(id));
    HttpResponse<String> without = capture(id, 1, asked);
    assertThat(without.statusCode()).isEqualTo(409);
    assertThat(without.body()).contains("has no network connection in the catalog");

    connect();
    String bench = "/bench/gauge/" + id + "?serial=" + asked;
    assertThat(service.pages(Role.TECHNICIAN).get(bench).body())
        .contains("Take it from " + shop.orderNumber() + " analyzer");
    analyzer.close();
    HttpResponse<String> off = capture(id, 1, asked);
    assertThat(off.statusCode()).isEqualTo(502);
    assertThat(asked(id).get("turn").asInt()).isEqualTo(1);
  }

  private long plan(double hertz) {
    if (shop.planner.get("/api/v1/workorders/" + shop.orderNumber()).statusCode() != 200) {
      shop.order(2, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    }
    HttpResponse<String> answer =
        shop.qa.post(
            "/api/v1/gauge-studies",
            """
            {"name": "Captured", "benchId": %d, "frequencyHz": %s, "toleranceWidthDeg": 6,
             "trials": 2, "parts": ["%s", "%s"], "appraisers": ["technician", "qa"]}
            """
                .formatted(shop.benchId, hertz, shop.serial(1), shop.serial(2)));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }

  private JsonNode asked(long id) {
    return ApiClient.json(shop.technician.get("/api/v1/bench/gauge/" + id + "/next"));
  }

  private static String serial(JsonNode asked) {
    return asked.get("serial").asString();
  }

  private HttpResponse<String> capture(long id, int turn, String serial) {
    return shop.technician.post(
        "/api/v1/bench/gauge/" + id + "/captures",
        "{\"turn\": %d, \"serial\": \"%s\"}".formatted(turn, serial));
  }

  /** Gives the bench's instrument the simulated one's address. */
  private void connect() {
    long id =
        ApiClient.json(shop.planner.get("/api/v1/catalog/benches/" + shop.benchId))
            .get("instrumentId")
            .asLong();
    String one = "/api/v1/catalog/instruments/" + id;
    ObjectNode instrument = (ObjectNode) ApiClient.json(shop.planner.get(one));
    instrument
        .putObject("connection")
        .put("host", "127.0.0.1")
        .put("port", analyzer.port())
        .put("answerTimeoutS", 2)
        .put("sweepTimeoutS", 6);
    HttpResponse<String> stored = shop.planner.put(one, JSON.writeValueAsString(instrument));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(200);
  }
}
