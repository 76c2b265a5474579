package org.equiphase.postgresql;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.TestDatabase;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.equiphase.demo.SimulatedAnalyzer;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Two instances of the service on one PostgreSQL database, as behind a load balancer. */
class TwoInstancesTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";
  private static final JsonMapper JSON = JsonMapper.builder().build();

  private static RunningService one;
  private static RunningService other;

  @BeforeAll
  static void start() {
    String database = TestDatabase.postgres();
    one = RunningService.startOn(database, "equiphase.demo-accounts=true");
    other = RunningService.startOn(database);
  }

  @AfterAll
  static void stop() {
    one.close();
    other.close();
  }

  /** Each script of the migrations is there once, and so is the code of the first administrator. */
  @Test
  void startedTogetherOnAnEmptyDatabaseBothServe() {
    String database = TestDatabase.postgres();
    List<RunningService> started =
        atOnce(
            () -> RunningService.startOn(database),
            () -> RunningService.startOn(database),
            () -> RunningService.startOn(database));
    try {
      for (RunningService service : started) {
        assertThat(service.pages().get("/setup").statusCode()).isEqualTo(200);
      }
      JdbcClient jdbc = started.get(0).bean(JdbcClient.class);
      assertThat(
              jdbc.sql("select version from flyway_schema_history where success")
                  .query(String.class)
                  .list())
          .doesNotHaveDuplicates()
          .isEqualTo(
              one.bean(JdbcClient.class)
                  .sql("select version from flyway_schema_history")
                  .query(String.class)
                  .list());
      assertThat(jdbc.sql("select count(*) from setup_code").query(Integer.class).single())
          .isEqualTo(1);
    } finally {
      started.forEach(RunningService::close);
    }
  }

  @Test
  void aSessionOfOneServesAtTheOther() {
    PageClient pages = one.pages(Role.TECHNICIAN);

    HttpResponse<String> elsewhere = pages.get(other.url() + "/account");
    assertThat(elsewhere.statusCode()).isEqualTo(200);
    assertThat(elsewhere.body()).contains("Demo Technician");

    HttpResponse<String> out = pages.post(other.url() + "/sign-out", Map.of());
    assertThat(out.statusCode()).isEqualTo(302);
    assertThat(pages.location(pages.get("/account"))).contains("/sign-in");
  }

  /** The first requests of a session write it at both instances at once. */
  @Test
  void aSessionMayBeUsedAtBothAtOnce() {
    PageClient pages = one.pages(Role.PLANNER);
    for (int i = 0; i < 10; i++) {
      assertThat(atOnce(() -> pages.get("/workorders"), () -> pages.get(other.url() + "/catalog")))
          .extracting(HttpResponse::statusCode)
          .containsOnly(200);
    }
  }

  @Test
  void theSameKeyAtBothStoresOnceAndGetsOneAnswer() {
    SmallShop shop = new SmallShop(one);
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (int i = 0; i < 5; i++) {
      String key = UUID.randomUUID().toString();
      String reading = shop.reading(shop.serial(1), 1003 + i);
      List<HttpResponse<String>> answers =
          atOnce(
              () -> shop.technician.write("POST", "/api/v1/readings", reading, key),
              () -> other.api(Role.TECHNICIAN).write("POST", "/api/v1/readings", reading, key));
      assertThat(answers).extracting(HttpResponse::statusCode).containsOnly(201);
      assertThat(answers.get(0).body()).isEqualTo(answers.get(1).body());
      assertThat(answers)
          .filteredOn(a -> a.headers().firstValue("Idempotency-Replayed").isPresent())
          .hasSize(1);
    }
    assertThat(readings(shop, shop.serial(1))).hasSize(5);
  }

  /** The last two readings of a set make its plan: whichever comes second issues all of it. */
  @Test
  void aSetReadAtBothGetsEachInstructionOnce() {
    for (int round = 0; round < 5; round++) {
      SmallShop shop = new SmallShop(one);
      SmallShop elsewhere = shop.through(other);
      shop.order(4, "SET", "ABSOLUTE", "", SIMPLE);
      shop.measure(shop.serial(1), 1000);
      shop.measure(shop.serial(2), 1003);
      atOnce(
          () -> shop.measure(shop.serial(3), 1001), () -> elsewhere.measure(shop.serial(4), 1006));

      int issued = 0;
      for (int i = 1; i <= 4; i++) {
        List<JsonNode> instructions = instructions(shop, shop.serial(i));
        assertThat(instructions)
            .hasSizeLessThanOrEqualTo(1)
            .isEqualTo(instructions(elsewhere, shop.serial(i)));
        issued += instructions.size();
      }
      assertThat(issued).isPositive();
    }
  }

  @Test
  void anAssemblyMeasuredAtBothHasOneInstructionByItsNewestReading() {
    SmallShop shop = new SmallShop(one);
    SmallShop elsewhere = shop.through(other);
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    String serial = shop.serial(1);
    for (int i = 0; i < 5; i++) {
      double lengthMm = 1005 + 2 * i;
      atOnce(() -> shop.measure(serial, lengthMm), () -> elsewhere.measure(serial, lengthMm + 1));

      List<JsonNode> standing = standing(shop, serial);
      assertThat(standing).hasSize(1);
      assertThat(standing.get(0).get("readingId").asLong())
          .isEqualTo(
              readings(shop, serial).stream()
                  .mapToLong(r -> r.get("id").asLong())
                  .max()
                  .orElseThrow());
    }
  }

  /** Two technicians sign the same cut off, each with a key of their own: one of them is told. */
  @Test
  void aCutSignedOffAtBothCountsOnce() {
    SmallShop shop = new SmallShop(one);
    SmallShop elsewhere = shop.through(other);
    long set = shop.order(3, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (int i = 1; i <= 3; i++) {
      String serial = shop.serial(i);
      shop.measure(serial, 1005);
      JsonNode instruction = standing(shop, serial).get(0);
      List<HttpResponse<String>> answers =
          atOnce(() -> shop.signOff(instruction, 2.5), () -> elsewhere.signOff(instruction, 2.5));
      assertThat(answers).extracting(HttpResponse::statusCode).containsExactlyInAnyOrder(200, 409);
      assertThat(shop.member(set, serial).get("assembly").get("trimmedMm").asDouble())
          .isEqualTo(2.5);
    }
  }

  /** Writers at both instances keep one chain, and each instance finds it whole. */
  @Test
  void theAuditChainStaysWholeWithTwoWriters() {
    SmallShop shop = new SmallShop(one);
    SmallShop elsewhere = shop.through(other);
    shop.order(8, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    List<Supplier<Long>> writers = new ArrayList<>();
    for (int i = 1; i <= 8; i++) {
      String serial = shop.serial(i);
      SmallShop through = i % 2 == 0 ? shop : elsewhere;
      writers.add(
          () -> IntStream.range(0, 5).mapToLong(n -> through.measure(serial, 1003 + n)).sum());
    }
    atOnce(writers);

    for (RunningService service : List.of(one, other)) {
      ChainCheck check = service.bean(ChainChecker.class).check();
      assertThat(check.isIntact()).as(check.toString()).isTrue();
      assertThat(check.entries()).isGreaterThan(80);
      assertThat(check.sealedRows()).isGreaterThan(40);
    }
  }

  /** An instrument answers one program at a time, whichever instance that is. */
  @Test
  void anInstrumentInUseAtOneIsNotAskedByTheOther() throws Exception {
    SmallShop shop = new SmallShop(one);
    SmallShop elsewhere = shop.through(other);
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    CountDownLatch sweeping = new CountDownLatch(1);
    CountDownLatch goOn = new CountDownLatch(1);
    try (SimulatedAnalyzer analyzer = analyzer(sweeping, goOn)) {
      connect(shop, analyzer.port());
      CompletableFuture<HttpResponse<String>> first =
          CompletableFuture.supplyAsync(() -> capture(shop, shop.serial(1)));
      try {
        assertThat(sweeping.await(20, TimeUnit.SECONDS)).isTrue();
        HttpResponse<String> second = capture(elsewhere, shop.serial(2));
        assertThat(second.statusCode()).as(second.body()).isEqualTo(409);
        assertThat(second.body()).contains("is being used by somebody else");
      } finally {
        goOn.countDown();
      }
      assertThat(first.get(30, TimeUnit.SECONDS).statusCode()).isEqualTo(201);
      assertThat(capture(elsewhere, shop.serial(2)).statusCode()).isEqualTo(201);
    }
  }

  private static SimulatedAnalyzer analyzer(CountDownLatch sweeping, CountDownLatch goOn)
      throws IOException {
    SimulatedAnalyzer analyzer =
        SimulatedAnalyzer.start(
            0,
            (message, answer, socket) -> {
              if (message.equals("*OPC?")) {
                sweeping.countDown();
                goOn.await(20, TimeUnit.SECONDS);
              }
              socket.getOutputStream().write(answer);
            });
    analyzer.connect(
        (parameter, hertz) ->
            parameter.equals("S21")
                ? Complex.ofPolarDeg(
                    0.87, -SmallShop.degPerMm() * 1004 * hertz / SmallShop.FREQUENCY_HZ)
                : Complex.of(0.05, 0),
        2.6e9,
        3.0e9,
        51);
    return analyzer;
  }

  private static void connect(SmallShop shop, int port) {
    String one =
        "/api/v1/catalog/instruments/"
            + ApiClient.json(shop.planner.get("/api/v1/catalog/benches/" + shop.benchId))
                .get("instrumentId")
                .asLong();
    ObjectNode instrument = (ObjectNode) ApiClient.json(shop.planner.get(one));
    instrument
        .putObject("connection")
        .put("host", "127.0.0.1")
        .put("port", port)
        .put("answerTimeoutS", 5)
        .put("sweepTimeoutS", 30);
    HttpResponse<String> stored = shop.planner.put(one, JSON.writeValueAsString(instrument));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(200);
  }

  private static HttpResponse<String> capture(SmallShop shop, String serial) {
    return shop.technician.post(
        "/api/v1/readings/captures",
        "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23}"
            .formatted(serial, shop.benchId));
  }

  private static List<JsonNode> readings(SmallShop shop, String serial) {
    return list(shop.technician.get("/api/v1/readings?serial=" + serial));
  }

  private static List<JsonNode> instructions(SmallShop shop, String serial) {
    return list(shop.technician.get("/api/v1/instructions?serial=" + serial));
  }

  private static List<JsonNode> standing(SmallShop shop, String serial) {
    return instructions(shop, serial).stream()
        .filter(i -> i.get("state").asString().equals("ISSUED"))
        .toList();
  }

  private static List<JsonNode> list(HttpResponse<String> answer) {
    List<JsonNode> all = new ArrayList<>();
    ApiClient.json(answer).forEach(all::add);
    assertThat(new HashSet<>(all)).hasSameSizeAs(all);
    return all;
  }

  @SafeVarargs
  private static <T> List<T> atOnce(Supplier<T>... actions) {
    return atOnce(List.of(actions));
  }

  private static <T> List<T> atOnce(List<Supplier<T>> actions) {
    CountDownLatch together = new CountDownLatch(actions.size());
    List<CompletableFuture<T>> running =
        actions.stream()
            .map(
                action ->
                    CompletableFuture.supplyAsync(
                        () -> {
                          together.countDown();
                          await(together);
                          return action.get();
                        },
                        task -> new Thread(task).start()))
            .toList();
    return running.stream().map(CompletableFuture::join).toList();
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
