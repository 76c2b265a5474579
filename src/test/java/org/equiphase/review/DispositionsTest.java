package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.net.http.HttpResponse;
import java.util.concurrent.CompletableFuture;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Each kind of decision and its consequence, over the API. */
@ExtendWith(RunningService.Extension.class)
class DispositionsTest {

  private final RunningService service;
  private final ReviewShop review;
  private final SmallShop shop;

  DispositionsTest(RunningService service) {
    this.service = service;
    review = new ReviewShop(service);
    shop = review.shop;
  }

  /** Two members to a nominal length of 1000 mm; the second is short by 4 mm and is held. */
  private long setWithAShortMember() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 996);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("ON_HOLD");
    return set;
  }

  @Test
  void aNewReadingIsAskedForAndEarlierOnesNoLongerCount() {
    long set = setWithAShortMember();
    JsonNode decision = review.decided(shop.serial(2), "REMEASURE", "");
    assertThat(decision.get("state").asString()).isEqualTo("IN_FORCE");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("AWAITING_READING");
    assertThat(shop.member(set, shop.serial(2)).get("reason").asString()).contains("new reading");
    shop.measure(shop.serial(2), 1000.1);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("MATCHED");
  }

  @Test
  void theNumbersStayAsTheyWereAndAreSigned() {
    setWithAShortMember();
    JsonNode decision = review.decided(shop.serial(2), "REMEASURE", "");
    shop.measure(shop.serial(2), 1000);
    JsonNode kept = review.disposition(decision.get("id").asLong());
    assertThat(kept).isEqualTo(decision);
    JsonNode spot = kept.get("numbers").get("spots").get(0);
    // 4 mm short: +360·f·ΔL/(v·c)
    assertThat(spot.get("errorDeg").asDouble()).isCloseTo(4 * SmallShop.degPerMm(), within(1e-6));
    JsonNode signature = kept.get("signatures").get(0);
    assertThat(signature.get("person").asString()).isEqualTo(RunningService.username(Role.QA));
    assertThat(signature.get("meaning").asString()).isEqualTo("DECIDED");
    assertThat(kept.get("sha256").asString()).matches("[0-9a-f]{64}");
  }

  /** 30 mm too long with 20 mm allowed: out, until another 15 mm are granted. */
  @Test
  void cutsMayTakeMoreThanTheOrderAllows() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    // Further from nominal than half a turn is unknown turns: 15 mm is within ± 20 mm.
    shop.measure(shop.serial(2), 1015);
    JsonNode cut = shop.member(set, shop.serial(2)).get("current");
    assertThat(shop.signOff(cut, 13).statusCode()).isEqualTo(200);
    shop.measure(shop.serial(2), 1012);
    assertThat(shop.member(set, shop.serial(2)).get("verdict").asString()).isEqualTo("OUT");

    review.decided(shop.serial(2), "TRIM_AGAIN", "\"extraTrimMm\": 15");
    JsonNode member = shop.member(set, shop.serial(2));
    assertThat(member.get("verdict").asString()).isEqualTo("ADJUST");
    assertThat(member.get("current").get("trimMm").asDouble()).isBetween(10.0, 12.0);
  }

  @Test
  void aMemberChangesPlacesWithOneOfThePool() {
    shop.pool = 1;
    long set = setWithAShortMember();
    shop.measure(shop.poolSerial(1), 1000.1);
    review.decided(shop.serial(2), "SWAP", "\"otherSerial\": \"%s\"".formatted(shop.poolSerial(1)));
    assertThat(shop.state(set, shop.poolSerial(1))).isEqualTo("MATCHED");
    JsonNode out =
        ApiClient.json(review.qa.get("/api/v1/review/dispositions?serial=" + shop.poolSerial(1)));
    assertThat(out.get(0).get("serial").asString()).isEqualTo(shop.serial(2));
  }

  /** A master stays: the others are matched to it. */
  @Test
  void aMasterIsNotSwapped() {
    shop.pool = 1;
    shop.order(2, "MASTER", "ABSOLUTE", shop.serial(1), SIMPLE);
    shop.measure(shop.serial(1), 1000);
    HttpResponse<String> answer =
        review.decide(
            shop.serial(1), "SWAP", "\"otherSerial\": \"%s\"".formatted(shop.poolSerial(1)));
    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(answer.body()).contains("master");
  }

  /**
   * Three members, 1000, 1002 and 1000 mm; ± 3° is ± 0.62 mm. The second is cut to 1000 mm by
   * mistake, to 994 mm: it is short of the fixed target. Centred anew, the two others are cut to
   * it.
   */
  @Test
  void aSetIsCentredAnewOnWhatWasCutTooShort() {
    long set = shop.order(3, "SET", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1002);
    shop.measure(shop.serial(3), 1000);
    JsonNode cut = shop.member(set, shop.serial(2)).get("current");
    assertThat(shop.signOff(cut, 8).statusCode()).isEqualTo(200);
    shop.measure(shop.serial(2), 994);
    assertThat(shop.member(set, shop.serial(2)).get("verdict").asString()).isEqualTo("OUT");

    JsonNode decision = review.decided(shop.serial(2), "RECENTRE", "");
    assertThat(decision.get("numbers").get("newCenterDeg")).hasSize(1);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("IN_TOLERANCE");
    for (int i : new int[] {1, 3}) {
      JsonNode current = shop.member(set, shop.serial(i)).get("current");
      assertThat(current.get("action").asString()).isEqualTo("TRIM");
      assertThat(current.get("trimMm").asDouble()).isBetween(5.0, 6.7);
    }
  }

  @Test
  void aTargetThatTheOrderGivesStays() {
    setWithAShortMember();
    HttpResponse<String> answer = review.decide(shop.serial(2), "RECENTRE", "");
    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(answer.body()).contains("given by its order");
  }

  @Test
  void aConcessionTakesTwoPersonsAndHoldsForItsReadingAlone() {
    long set = setWithAShortMember();
    JsonNode decision = review.decided(shop.serial(2), "CONCESSION", "");
    long id = decision.get("id").asLong();
    assertThat(decision.get("state").asString()).isEqualTo("PENDING");
    assertThat(shop.member(set, shop.serial(2)).get("verdict").asString()).isEqualTo("HELD");
    assertThat(ApiClient.json(review.qa.get("/api/v1/review/dispositions/pending")).toString())
        .contains("\"id\":" + id + ",");

    HttpResponse<String> same = review.countersign(review.qa, id, true);
    assertThat(same.statusCode()).isEqualTo(400);
    assertThat(same.body()).contains("another person's");
    HttpResponse<String> early =
        review.qa.post(
            "/api/v1/review/assemblies/" + shop.serial(2) + "/release", "{\"reason\": \"why\"}");
    assertThat(early.statusCode()).isEqualTo(409);

    assertThat(review.countersign(review.second, id, true).statusCode()).isEqualTo(200);
    assertThat(review.disposition(id).get("state").asString()).isEqualTo("IN_FORCE");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("CONCEDED");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("MATCHED");
    assertThat(review.countersign(review.second, id, true).statusCode()).isEqualTo(409);

    shop.measure(shop.serial(2), 996);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("ON_HOLD");
  }

  /** It was given for the tolerance that the order had then. */
  @Test
  void aConcessionEndsWithTheRevisionItWasGivenFor() {
    long set = setWithAShortMember();
    long id = review.decided(shop.serial(2), "CONCESSION", "").get("id").asLong();
    assertThat(review.countersign(review.second, id, true).statusCode()).isEqualTo(200);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("CONCEDED");
    tighten();
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("ON_HOLD");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("IN_TOLERANCE");
  }

  @Test
  void aRevisionInBetweenKeepsTheSecondSignatureOut() {
    setWithAShortMember();
    long id = review.decided(shop.serial(2), "CONCESSION", "").get("id").asLong();
    tighten();
    HttpResponse<String> agreed = review.countersign(review.second, id, true);
    assertThat(agreed.statusCode()).isEqualTo(409);
    assertThat(agreed.body()).contains("under revision A");
    assertThat(review.countersign(review.second, id, false).statusCode()).isEqualTo(200);
  }

  private void tighten() {
    String address = "/api/v1/workorders/" + shop.orderNumber();
    JsonNode order = ApiClient.json(shop.planner.get(address)).get("order");
    HttpResponse<String> revised =
        shop.planner.post(
            address + "/revisions",
            "{\"version\": %d, \"title\": \"invented\", \"reason\": \"tighter\", \"specification\": %s}"
                .formatted(
                    order.get("version").asInt(),
                    order
                        .get("specification")
                        .toString()
                        .replace("\"toleranceDeg\":3.0", "\"toleranceDeg\":2.0")));
    assertThat(revised.statusCode()).as(revised.body()).isEqualTo(200);
  }

  @Test
  void aSecondPersonMayDecline() {
    long set = setWithAShortMember();
    long id = review.decided(shop.serial(2), "CONCESSION", "").get("id").asLong();
    assertThat(review.countersign(review.second, id, false).statusCode()).isEqualTo(200);
    assertThat(review.disposition(id).get("state").asString()).isEqualTo("DECLINED");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("ON_HOLD");

    // The next decision stands on its own: nothing that stood is superseded.
    JsonNode next = review.decided(shop.serial(2), "REMEASURE", "");
    assertThat(next.get("supersedesId").isNull()).isTrue();
  }

  @Test
  void aReadingInBetweenKeepsTheSecondSignatureOut() {
    setWithAShortMember();
    long id = review.decided(shop.serial(2), "CONCESSION", "").get("id").asLong();
    shop.measure(shop.serial(2), 996.1);
    HttpResponse<String> late = review.countersign(review.second, id, true);
    assertThat(late.statusCode()).isEqualTo(409);
    assertThat(late.body()).contains("another reading");
    assertThat(review.disposition(id).get("state").asString()).isEqualTo("PENDING");
  }

  @Test
  void aScrappedMemberKeepsItsPositionUntilAnotherTakesIt() {
    long set = setWithAShortMember();
    long id = review.decided(shop.serial(2), "SCRAP", "").get("id").asLong();
    assertThat(review.countersign(review.second, id, true).statusCode()).isEqualTo(200);
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("SCRAPPED");
    assertThat(shop.tryMeasure(shop.serial(2), 1000, 1).statusCode()).isEqualTo(409);

    String successor = shop.serial(2) + "-N";
    JsonNode replace =
        review.decided(shop.serial(2), "REPLACE", "\"newSerial\": \"%s\"".formatted(successor));
    assertThat(replace.get("supersedesId").asLong()).isEqualTo(id);
    shop.measure(successor, 1000);
    assertThat(shop.state(set, successor)).isEqualTo("MATCHED");
    assertThat(service.pages(Role.QA).get("/assemblies/" + shop.serial(2)).body())
        .contains(">scrapped<");
  }

  @Test
  void aLaterDecisionSupersedesWithALink() {
    setWithAShortMember();
    long first = review.decided(shop.serial(2), "REMEASURE", "").get("id").asLong();
    long second =
        review.decided(shop.serial(2), "TRIM_AGAIN", "\"extraTrimMm\": 1").get("id").asLong();
    assertThat(review.disposition(second).get("supersedesId").asLong()).isEqualTo(first);
    JsonNode superseded = review.disposition(first);
    assertThat(superseded.get("state").asString()).isEqualTo("SUPERSEDED");
    assertThat(superseded.get("supersededById").asLong()).isEqualTo(second);
  }

  @Test
  void aWrongPasswordSignsNothingAndStaysOnRecord() {
    long set = setWithAShortMember();
    HttpResponse<String> answer =
        review.decide(shop.serial(2), "REMEASURE", "", "not the password");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("\"password\"").contains("nothing was signed");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("ON_HOLD");
    HttpResponse<String> audit =
        service
            .api(Role.ADMINISTRATOR)
            .get("/api/v1/audit?subjectType=person&actor=" + RunningService.username(Role.QA));
    assertThat(audit.body()).contains("SIGNATURE_REFUSED");
  }

  @Test
  void aNewerReadingRefusesADecisionMadeWithoutIt() {
    setWithAShortMember();
    String body = review.body(shop.serial(2), "REMEASURE", "", RunningService.PASSWORD);
    shop.measure(shop.serial(2), 996.5);
    assertThat(review.qa.post("/api/v1/review/dispositions", body).statusCode()).isEqualTo(409);
  }

  @Test
  void ofTwoDecisionsAtOnceTheSecondIsToldOfTheFirst() {
    setWithAShortMember();
    long seen =
        review.decided(shop.serial(2), "TRIM_AGAIN", "\"extraTrimMm\": 1").get("id").asLong();
    String after = "\"after\": " + seen;
    var answers =
        Stream.of(review.qa, review.second)
            .map(
                person ->
                    CompletableFuture.supplyAsync(
                        () ->
                            person.post(
                                "/api/v1/review/dispositions",
                                review.body(
                                    shop.serial(2), "REMEASURE", after, RunningService.PASSWORD))))
            .toList();
    assertThat(answers.stream().map(a -> a.join().statusCode()).sorted()).containsExactly(201, 409);
    assertThat(answers.stream().map(a -> a.join().body()).toList().toString())
        .contains("meanwhile");
  }

  @Test
  void missingTermsAreNamed() {
    setWithAShortMember();
    for (String[] missing :
        new String[][] {
          {"TRIM_AGAIN", "extraTrimMm"}, {"SWAP", "otherSerial"},
          {"REPLACE", "newSerial"}, {"FIT_STRETCHER", "lineStretcherId"}
        }) {
      HttpResponse<String> answer = review.decide(shop.serial(2), missing[0], "");
      assertThat(answer.statusCode()).as(missing[0]).isEqualTo(400);
      assertThat(answer.body()).contains(missing[1]);
    }
  }

  @Test
  void theTwoPersonRuleIsForTheAdministratorToSet() {
    long set = setWithAShortMember();
    ApiClient administrator = service.api(Role.ADMINISTRATOR);
    String path = "/api/v1/review/settings";
    String asItIs = review.qa.get(path).body();
    assertThat(review.qa.put(path, asItIs).statusCode()).isEqualTo(403);
    String relaxed =
        asItIs.replace("\"twoPersonConcession\":true", "\"twoPersonConcession\":false");
    assertThat(administrator.put(path, relaxed).statusCode()).isEqualTo(200);
    assertThat(administrator.put(path, relaxed).statusCode()).isEqualTo(409);
    JsonNode decision = review.decided(shop.serial(2), "CONCESSION", "");
    assertThat(decision.get("state").asString()).isEqualTo("IN_FORCE");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("CONCEDED");
    int version = ApiClient.json(review.qa.get(path)).get("version").asInt();
    String strict = asItIs.replaceFirst("\"version\":\\d+", "\"version\":" + version);
    assertThat(administrator.put(path, strict).statusCode()).isEqualTo(200);
    String senseless =
        strict
            .replace("0.95", "1.5")
            .replaceFirst("\"version\":\\d+", "\"version\":" + (version + 1));
    HttpResponse<String> refused = administrator.put(path, senseless);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("atRiskProbability").contains("1.5");
  }
}
