package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.Locale;
import java.util.Random;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.demo.SimulatedAnalyzer;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Captures over HTTP, from the request to the instruction. */
@ExtendWith(RunningService.Extension.class)
class CaptureTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";
  private static final double LENGTH_MM = 1004.25;
  private static final double NOISE = 4e-4;
  private static final int POINTS = 101;
  private static final SimulatedAnalyzer.Delivery SOUND =
      (message, answer, socket) -> socket.getOutputStream().write(answer);
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final SmallShop shop;
  private final Random noise = new Random(5025);
  private volatile SimulatedAnalyzer.Delivery delivery = SOUND;
  private SimulatedAnalyzer analyzer;

  CaptureTest(RunningService service) {
    this.shop = new SmallShop(service);
  }

  @BeforeEach
  void start() throws IOException {
    analyzer =
        SimulatedAnalyzer.start(
            0, (message, answer, socket) -> delivery.deliver(message, answer, socket));
    analyzer.connect(this::measured, 2.6e9, 3.0e9, POINTS);
  }

  @AfterEach
  void stop() {
    analyzer.close();
  }

  /** A line of known length and 1.2 dB of loss, with a VSWR of (1 + 0.05)/(1 − 0.05). */
  private Complex measured(String parameter, double hertz) {
    Complex value =
        switch (parameter) {
          case "S21" ->
              Complex.ofPolarDeg(
                  Math.pow(10, -1.2 / 20),
                  -SmallShop.degPerMm() * LENGTH_MM * hertz / SmallShop.FREQUENCY_HZ);
          case "S11" -> Complex.of(0.05, 0);
          default -> throw new AssertionError(parameter + " was not asked for");
        };
    return value.plus(Complex.of(NOISE * noise.nextGaussian(), NOISE * noise.nextGaussian()));
  }

  /** −360·f·L/(v·c), within what noise of 4·10⁻⁴ in 0.87 makes of it: 0.026° at one point. */
  @Test
  void theReadingIsTheSimulatedCable() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();

    HttpResponse<String> answer = capture(shop.serial(1), "23.0");

    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    JsonNode reading = ApiClient.json(answer);
    assertThat(answer.headers().firstValue("Location").orElseThrow())
        .isEqualTo("/api/v1/readings/" + reading.get("id").asLong());
    JsonNode spot = reading.get("spots").get(0);
    assertThat(spot.get("phaseDeg").asDouble())
        .isCloseTo(-SmallShop.degPerMm() * LENGTH_MM, within(5 * 0.026));
    assertThat(spot.get("insertionLossDb").asDouble()).isCloseTo(1.2, within(0.03));
    assertThat(spot.get("vswr").asDouble()).isCloseTo(1.05 / 0.95, within(0.01));
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
    assertThat(
            ApiClient.json(
                    shop.technician.get(
                        "/api/v1/readings/" + reading.get("id").asLong() + "/sweep"))
                .get("points"))
        .hasSize(POINTS);
    assertThat(analyzer.connections()).isZero();
  }

  /** The sweep is kept as a file named after the assembly, and the audit says where it is from. */
  @Test
  void theSweepIsKeptAsAFile() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();
    long reading = ApiClient.json(capture(shop.serial(1), "23.0")).get("id").asLong();

    String audit =
        shop.qa.get("/api/v1/audit?subjectType=assembly&subjectKey=" + shop.serial(1)).body();
    assertThat(audit)
        .contains("SWEEP_CAPTURED", "Invented Shop,Simulated analyzer,0001,1.0")
        .contains("" + reading);
    assertThat(shop.qa.get("/api/v1/audit?subjectType=file").body())
        .containsPattern(shop.serial(1) + "-\\d{8}T\\d{6}\\.\\d{3}Z\\.s2p");
  }

  @Test
  void withoutATemperatureTheBenchsHolds() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();

    HttpResponse<String> refused = capture(shop.serial(1), "null");

    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo("temperatureC");
  }

  @Test
  void anInstrumentWithoutConnectionIsSaid() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);

    HttpResponse<String> refused = capture(shop.serial(1), "23.0");

    assertThat(refused.statusCode()).isEqualTo(409);
    assertThat(detail(refused)).contains("has no network connection in the catalog");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("AWAITING_READING");
  }

  @Test
  void anUnknownAssemblyIsNotMeasured() {
    connect();
    delivery =
        (message, answer, socket) -> {
          throw new AssertionError("asked " + message);
        };
    assertThat(capture("no-such-serial", "23.0").statusCode()).isEqualTo(404);
  }

  @Test
  void anInstrumentThatIsOffStoresNothing() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();
    analyzer.close();

    HttpResponse<String> failed = capture(shop.serial(1), "23.0");

    assertThat(failed.statusCode()).isEqualTo(502);
    assertThat(ApiClient.json(failed).get("title").asString())
        .isEqualTo("The instrument could not be read");
    assertThat(detail(failed)).contains("no connection to the instrument at 127.0.0.1");
    nothingStored(set);
  }

  @Test
  void anInstrumentThatIsSilentStoresNothing() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();
    delivery = (message, answer, socket) -> {};

    HttpResponse<String> failed = capture(shop.serial(1), "23.0");

    assertThat(failed.statusCode()).isEqualTo(504);
    assertThat(detail(failed)).contains("did not answer “*IDN?” in time");
    nothingStored(set);
  }

  @Test
  void aCutConnectionStoresNothingAndTheNextTryWorks() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();
    delivery =
        (message, answer, socket) -> {
          if (message.contains("DATA?")) {
            socket.getOutputStream().write(answer, 0, 500);
            socket.close();
          } else {
            SOUND.deliver(message, answer, socket);
          }
        };

    HttpResponse<String> failed = capture(shop.serial(1), "23.0");
    assertThat(failed.statusCode()).isEqualTo(502);
    assertThat(detail(failed)).contains("was cut after 500 bytes");
    nothingStored(set);

    delivery = SOUND;
    assertThat(capture(shop.serial(1), "23.0").statusCode()).isEqualTo(201);
  }

  /**
   * The second is told of the first; and others can write while the instrument keeps it waiting.
   */
  @Test
  void ofTwoAtOnceOneIsToldOfTheOther() throws Exception {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    connect();
    CountDownLatch sweeping = new CountDownLatch(1);
    CountDownLatch goOn = new CountDownLatch(1);
    delivery =
        (message, answer, socket) -> {
          if (message.equals("*OPC?")) {
            sweeping.countDown();
            goOn.await(5, TimeUnit.SECONDS);
          }
          SOUND.deliver(message, answer, socket);
        };
    CompletableFuture<HttpResponse<String>> first =
        CompletableFuture.supplyAsync(() -> capture(shop.serial(1), "23.0"));
    try {
      assertThat(sweeping.await(5, TimeUnit.SECONDS)).isTrue();

      HttpResponse<String> second = capture(shop.serial(2), "23.0");
      assertThat(second.statusCode()).isEqualTo(409);
      assertThat(detail(second))
          .contains("is being used by technician since", "for " + shop.serial(1));

      shop.measure(shop.serial(2), 1000);
      assertThat(shop.state(set, shop.serial(2))).isEqualTo("IN_TOLERANCE");
    } finally {
      goOn.countDown();
    }
    assertThat(first.get(10, TimeUnit.SECONDS).statusCode()).isEqualTo(201);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
  }

  @Test
  void theConnectionCanBeTried() {
    long instrument = connect();
    String test = "/api/v1/catalog/instruments/" + instrument + "/connection-test";

    HttpResponse<String> answer = shop.planner.post(test, "");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(ApiClient.json(answer).get("identity").asString())
        .isEqualTo("Invented Shop,Simulated analyzer,0001,1.0");

    analyzer.close();
    assertThat(shop.planner.post(test, "").statusCode()).isEqualTo(502);
  }

  private void nothingStored(long set) {
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("AWAITING_READING");
    assertThat(shop.technician.get("/api/v1/readings?serial=" + shop.serial(1)).body())
        .isEqualTo("[]");
    assertThat(shop.technician.get("/api/v1/files").body()).doesNotContain(shop.serial(1) + "-20");
  }

  private HttpResponse<String> capture(String serial, String temperatureC) {
    return shop.technician.post(
        "/api/v1/readings/captures",
        String.format(
            Locale.ROOT,
            "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": %s}",
            serial,
            shop.benchId,
            temperatureC));
  }

  /** Gives the bench's instrument the simulated one's address, and answers its id. */
  private long connect() {
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
        .put("answerTimeoutS", 0.4)
        .put("sweepTimeoutS", 6);
    HttpResponse<String> stored = shop.planner.put(one, JSON.writeValueAsString(instrument));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(200);
    return id;
  }

  private static String detail(HttpResponse<String> answer) {
    return ApiClient.json(answer).get("detail").asString();
  }
}
