package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.audit.ChainChecker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** The life of an assembly, over the API as a bench script sees it. */
@ExtendWith(RunningService.Extension.class)
class InstructionLifeTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";

  private final RunningService service;
  private final SmallShop shop;

  InstructionLifeTest(RunningService service) {
    this.service = service;
    this.shop = new SmallShop(service);
  }

  @Test
  void aSetGoesFromUnreadToMatched() {
    long set = shop.order(4, "SET", "ABSOLUTE", "", SIMPLE);
    double[] lengthMm = {1000, 1002, 1000.5, 1006};
    for (int i = 1; i <= 3; i++) {
      shop.measure(shop.serial(i), lengthMm[i - 1]);
    }
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MEASURED");
    assertThat(shop.plan(set).get("waitingFor")).hasSize(1);

    shop.measure(shop.serial(4), lengthMm[3]);
    for (int i = 1; i <= 4; i++) {
      JsonNode member = shop.member(set, shop.serial(i));
      if (member.get("verdict").asString().equals("ADJUST")) {
        double cutMm = member.get("current").get("trimMm").asDouble();
        double predicted = member.get("spots").get(0).get("predictedErrorDeg").asDouble();
        HttpResponse<String> signed = shop.signOff(member.get("current"), cutMm);
        assertThat(signed.statusCode()).as(signed.body()).isEqualTo(200);
        assertThat(shop.state(set, shop.serial(i))).isEqualTo("ADJUSTED");
        shop.measure(shop.serial(i), lengthMm[i - 1] - cutMm);
        double error =
            shop.member(set, shop.serial(i)).get("spots").get(0).get("errorDeg").asDouble();
        assertThat(error).isCloseTo(predicted, within(1e-6));
      }
    }
    JsonNode plan = shop.plan(set);
    assertThat(plan.get("set").get("matchedAt").isNull()).isFalse();
    for (String serial : shop.serials(4)) {
      assertThat(shop.state(set, serial)).isEqualTo("MATCHED");
    }
    assertThat(plan.get("centerFixed").asBoolean()).isTrue();
    assertThat(service.bean(ChainChecker.class).check().firstBroken()).isNull();
  }

  @Test
  void aNewerReadingMakesAnInstructionStale() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode old = shop.member(set, shop.serial(1)).get("current");
    shop.measure(shop.serial(1), 1003);

    HttpResponse<String> refused = shop.signOff(old, old.get("trimMm").asDouble());

    assertThat(refused.statusCode()).isEqualTo(409);
    assertThat(ApiClient.json(refused).get("detail").asString()).contains("stale");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
    assertThat(shop.member(set, shop.serial(1)).get("assembly").get("trimmedMm").asDouble())
        .isZero();
  }

  @Test
  void aReadingTakenBeforeACutButSentAfterItAsksForNoSecondCut() {
    SmallShop late = shop.another();
    Instant now = Instant.now();
    late.checkReference(30, now.minusSeconds(3600));
    long set = late.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    late.tryMeasure(late.serial(1), 1004, 1.2, now.minusSeconds(1800));
    JsonNode cut = late.member(set, late.serial(1)).get("current");
    assertThat(late.signOff(cut, cut.get("trimMm").asDouble()).statusCode()).isEqualTo(200);

    var sent = late.tryMeasure(late.serial(1), 1004, 1.2, now.minusSeconds(1200));

    assertThat(sent.statusCode()).as(sent.body()).isEqualTo(201);
    assertThat(late.member(set, late.serial(1)).get("verdict").asString())
        .isEqualTo("MEASURE_AGAIN");
    late.measure(late.serial(1), 1004 - cut.get("trimMm").asDouble());
    assertThat(late.member(set, late.serial(1)).get("verdict").asString())
        .isEqualTo("IN_TOLERANCE");
  }

  @Test
  void workIsNotDoneBeforeItsReadingWasTaken() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode cut = shop.member(set, shop.serial(1)).get("current");
    HttpResponse<String> refused =
        shop.technician.post(
            "/api/v1/instructions/" + cut.get("id").asLong() + "/sign-off",
            "{\"version\": %d, \"doneTrimMm\": 1, \"doneAt\": \"2020-01-01T00:00:00Z\"}"
                .formatted(cut.get("version").asInt()));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
        .isEqualTo("doneAt");
  }

  @Test
  void aVoidedReadingMakesItsInstructionStale() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    long reading = shop.measure(shop.serial(1), 1004);
    JsonNode old = shop.member(set, shop.serial(1)).get("current");
    HttpResponse<String> voided =
        shop.technician.post(
            "/api/v1/readings/" + reading + "/void", "{\"reason\": \"loose nut\"}");
    assertThat(voided.statusCode()).isEqualTo(200);

    assertThat(shop.signOff(old, 1).statusCode()).isEqualTo(409);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("AWAITING_READING");
    assertThat(
            shop.technician
                .post("/api/v1/readings/" + reading + "/void", "{\"reason\": \"again\"}")
                .statusCode())
        .isEqualTo(409);
    assertThat(
            ApiClient.json(shop.technician.get("/api/v1/readings?serial=" + shop.serial(1)))
                .get(0)
                .get("voided")
                .get("reason")
                .asString())
        .isEqualTo("loose nut");
  }

  /** The reading from before a cut must not ask for that cut a second time. */
  @Test
  void aVoidedRemeasurementLeavesTheCutKnown() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1008);
    JsonNode first = shop.member(set, shop.serial(1)).get("current");
    assertThat(shop.signOff(first, 3).statusCode()).isEqualTo(200);
    long again = shop.measure(shop.serial(1), 1005);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");

    shop.technician.post("/api/v1/readings/" + again + "/void", "{\"reason\": \"loose nut\"}");

    JsonNode member = shop.member(set, shop.serial(1));
    assertThat(member.get("verdict").asString()).isEqualTo("MEASURE_AGAIN");
    assertThat(member.get("current").get("state").asString()).isEqualTo("DONE");
    assertThat(member.get("spots").get(0).get("predictedErrorDeg").asDouble())
        .isCloseTo(-5 * SmallShop.degPerMm(), within(1e-6));

    // Cut twice, then both re-measurements void: both cuts count against the first reading.
    shop.measure(shop.serial(1), 1005);
    JsonNode second = shop.member(set, shop.serial(1)).get("current");
    long between = second.get("readingId").asLong();
    assertThat(shop.signOff(second, 2).statusCode()).isEqualTo(200);
    shop.technician.post("/api/v1/readings/" + between + "/void", "{\"reason\": \"wrong cable\"}");
    JsonNode twice = shop.member(set, shop.serial(1));
    assertThat(twice.get("verdict").asString()).isEqualTo("MEASURE_AGAIN");
    assertThat(twice.get("spots").get(0).get("predictedErrorDeg").asDouble())
        .isCloseTo(-3 * SmallShop.degPerMm(), within(1e-6));
  }

  @Test
  void anInstructionIsSignedOffOnce() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode instruction = shop.member(set, shop.serial(1)).get("current");
    String path = "/api/v1/instructions/" + instruction.get("id").asLong() + "/sign-off";
    String body =
        "{\"version\": %d, \"doneTrimMm\": 3.9}".formatted(instruction.get("version").asInt());
    String key = UUID.randomUUID().toString();

    HttpResponse<String> first = shop.technician.write("POST", path, body, key);
    HttpResponse<String> again = shop.technician.write("POST", path, body, key);
    HttpResponse<String> other = shop.technician.post(path, body);

    assertThat(first.statusCode()).as(first.body()).isEqualTo(200);
    assertThat(again.statusCode()).isEqualTo(200);
    assertThat(again.body()).isEqualTo(first.body());
    assertThat(other.statusCode()).isEqualTo(409);
    assertThat(shop.member(set, shop.serial(1)).get("assembly").get("trimmedMm").asDouble())
        .isEqualTo(3.9);
  }

  /** Two technicians on one cable: one cut is signed off, the other is told. */
  @Test
  void ofTwoSignOffsAtOnceOneIsRefused() throws Exception {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode instruction = shop.member(set, shop.serial(1)).get("current");
    CyclicBarrier together = new CyclicBarrier(2);
    Callable<Integer> signOff =
        () -> {
          together.await();
          return shop.signOff(instruction, 3.9).statusCode();
        };
    ExecutorService both = Executors.newFixedThreadPool(2);
    try {
      Future<Integer> one = both.submit(signOff);
      Future<Integer> other = both.submit(signOff);
      assertThat(List.of(one.get(), other.get())).containsExactlyInAnyOrder(200, 409);
    } finally {
      both.shutdown();
    }
    assertThat(shop.member(set, shop.serial(1)).get("assembly").get("trimmedMm").asDouble())
        .isEqualTo(3.9);
  }

  @Test
  void aShortMemberIsHeldAndReplaced() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 996);
    JsonNode held = shop.member(set, shop.serial(2));
    assertThat(held.get("verdict").asString()).isEqualTo("OUT");
    assertThat(held.get("assembly").get("state").asString()).isEqualTo("ON_HOLD");
    assertThat(held.get("current").get("action").asString()).isEqualTo("HOLD");
    // −360·f·ΔL/(v·c): 4 mm short is 4 × 4.84° too little delay, so the error is positive.
    assertThat(held.get("spots").get(0).get("errorDeg").asDouble())
        .isCloseTo(4 * SmallShop.degPerMm(), within(1e-6));

    String replacement = shop.serial(2) + "-R";
    String path = "/api/v1/review/dispositions";
    String body =
        """
        {"password": "%s", "disposition": {"kind": "REPLACE", "serial": "%s", "readingId": %d,
         "reasonCode": "TOO_SHORT", "text": "4 mm short", "newSerial": "%s"}}
        """
            .formatted(
                RunningService.PASSWORD,
                shop.serial(2),
                held.get("reading").get("id").asLong(),
                replacement);
    assertThat(shop.technician.post(path, body).statusCode()).isEqualTo(403);
    assertThat(shop.qa.post(path, body).statusCode()).isEqualTo(201);
    assertThat(shop.state(set, replacement)).isEqualTo("AWAITING_READING");
    assertThat(shop.tryMeasure(shop.serial(2), 1000, 1).statusCode()).isEqualTo(409);

    shop.measure(replacement, 1000.2);
    assertThat(shop.state(set, replacement)).isEqualTo("MATCHED");
  }

  @Test
  void aReadingOverALimitIsHeldWithTheFrequency() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    assertThat(shop.tryMeasure(shop.serial(1), 1000, 2.5).statusCode()).isEqualTo(201);
    JsonNode member = shop.member(set, shop.serial(1));
    assertThat(member.get("verdict").asString()).isEqualTo("OUT");
    assertThat(member.get("reason").asString()).contains("2.50 dB").contains("2.8000 GHz");
  }

  /** 10 mm steps are 48° each: no cut lands within ±3°. */
  @Test
  void aStepThatIsTooCoarseIsHeld() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE, 10);
    shop.measure(shop.serial(1), 1004);
    JsonNode member = shop.member(set, shop.serial(1));
    assertThat(member.get("verdict").asString()).isEqualTo("OUT");
    assertThat(member.get("reason").asString()).contains("too coarse");
  }

  @Test
  void aHoldLastsUntilItIsReleased() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    String path = "/api/v1/review/assemblies/" + shop.serial(1);
    assertThat(shop.qa.post(path + "/hold", "{\"reason\": \"dented\"}").statusCode())
        .isEqualTo(200);
    shop.measure(shop.serial(1), 1000);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("ON_HOLD");
    assertThat(shop.qa.post(path + "/release", "{\"reason\": \"looks well\"}").statusCode())
        .isEqualTo(200);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MATCHED");
    assertThat(shop.qa.post(path + "/release", "{\"reason\": \"again\"}").statusCode())
        .isEqualTo(409);
  }

  @Test
  void theMasterSetsTheTarget() {
    long set = shop.order(2, "MASTER", "ABSOLUTE", shop.serial(2), SIMPLE);
    shop.measure(shop.serial(1), 1004);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MEASURED");
    shop.measure(shop.serial(2), 1001);
    JsonNode member = shop.member(set, shop.serial(1));
    assertThat(member.get("spots").get(0).get("errorDeg").asDouble())
        .isCloseTo(-3 * SmallShop.degPerMm(), within(1e-6));
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("IN_TOLERANCE");
  }

  @Test
  void theGuardBandNarrowsWhatIsAccepted() {
    long set =
        shop.order(
            1, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"GUARDED\", \"guardFactor\": 1,");
    // The instrument's 0.2°, and 1°/√3 for what the next reference check may show at most (JCGM
    // 100,
    // 4.3.7): u = 0.611°, accepted within 3 − 2·u = 1.78°; 2 ° is not.
    double acceptedDeg = 3 - 2 * Math.sqrt(0.2 * 0.2 + 1.0 / 3);
    shop.measure(shop.serial(1), 1000 + 2 / SmallShop.degPerMm());
    JsonNode spot = shop.member(set, shop.serial(1)).get("spots").get(0);
    assertThat(spot.get("acceptanceDeg").asDouble()).isCloseTo(acceptedDeg, within(1e-9));
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
  }

  @Test
  void badReadingsAreRefusedAndNothingIsStored() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    String serial = shop.serial(1);
    String[] spots = {
      "[]",
      "[{\"frequencyHz\": 2.8e9}]",
      "[{\"frequencyHz\": 2.9e9, \"phaseDeg\": 1}]",
      "[{\"frequencyHz\": -2.8e9, \"phaseDeg\": 1}]",
      "[{\"frequencyHz\": 2.8e9, \"phaseDeg\": 1e999}]",
      "[{\"frequencyHz\": 2.8e9, \"phaseDeg\": 1}, {\"frequencyHz\": 2.8e9, \"phaseDeg\": 2}]",
    };
    for (String bad : spots) {
      HttpResponse<String> refused =
          shop.technician.post(
              "/api/v1/readings",
              "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23, \"spots\": %s}"
                  .formatted(serial, shop.benchId, bad));
      assertThat(refused.statusCode()).as(bad).isEqualTo(400);
      assertThat(ApiClient.json(refused).get("errors").get(0).get("field").asString())
          .as(bad)
          .startsWith("spots");
    }
    assertThat(shop.tryMeasure("no-such-serial", 1000, 1).statusCode()).isEqualTo(404);
    assertThat(ApiClient.json(shop.technician.get("/api/v1/readings?serial=" + serial)).isEmpty())
        .isTrue();
  }
}
