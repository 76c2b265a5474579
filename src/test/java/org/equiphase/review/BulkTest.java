package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;

/** One thing done to many assemblies: to all of them or to none. */
@ExtendWith(RunningService.Extension.class)
class BulkTest {

  private static final String PATH = "/api/v1/review/bulk";

  private final RunningService service;
  private final ReviewShop review;
  private final SmallShop shop;

  BulkTest(RunningService service) {
    this.service = service;
    review = new ReviewShop(service);
    shop = review.shop;
  }

  /** A set of which the first is good and the others are too short. */
  private long set(int members) {
    long set = shop.order(members, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    for (int i = 2; i <= members; i++) {
      shop.measure(shop.serial(i), 996);
    }
    return set;
  }

  private static String body(String action, String more, String... serials) {
    return """
        {"action": "%s", "reason": "doubtful lot", "serials": [%s]%s}
        """
        .formatted(
            action,
            Arrays.stream(serials).map(s -> "\"" + s + "\"").collect(Collectors.joining(",")),
            more);
  }

  private HttpResponse<String> act(String action, String more, String... serials) {
    return review.qa.post(PATH, body(action, more, serials));
  }

  private static String signed(String password) {
    return ", \"reasonCode\": \"READING_IN_DOUBT\", \"password\": \"" + password + "\"";
  }

  /** By a person; one that is too short is on hold by its reading. */
  private boolean isHeld(long set, String serial) {
    return !shop.member(set, serial).get("assembly").get("heldBy").isNull();
  }

  private long decisions(String serial) {
    return ApiClient.json(review.qa.get("/api/v1/review/dispositions?serial=" + serial)).size();
  }

  @Test
  void holdAndRelease() {
    long set = set(3);
    assertThat(act("HOLD", "", shop.serial(2), shop.serial(3), shop.serial(2)).body())
        .isEqualTo("{\"serials\":[\"%s\",\"%s\"]}".formatted(shop.serial(2), shop.serial(3)));
    assertThat(isHeld(set, shop.serial(1))).isFalse();
    assertThat(isHeld(set, shop.serial(2))).isTrue();
    assertThat(isHeld(set, shop.serial(3))).isTrue();
    assertThat(act("RELEASE", "", shop.serial(2), shop.serial(3)).statusCode()).isEqualTo(200);
    assertThat(isHeld(set, shop.serial(2))).isFalse();
  }

  @Test
  void oneThatCannotBeDoneIsNamedAndNoneIsDone() {
    long set = set(3);
    act("HOLD", "", shop.serial(3));
    HttpResponse<String> held = act("HOLD", "", shop.serial(2), shop.serial(3));
    assertThat(held.statusCode()).isEqualTo(409);
    assertThat(held.body()).contains(shop.serial(3)).contains("held already: doubtful lot");
    assertThat(isHeld(set, shop.serial(2))).isFalse();

    HttpResponse<String> notHeld = act("RELEASE", "", shop.serial(3), shop.serial(2));
    assertThat(notHeld.statusCode()).isEqualTo(409);
    assertThat(notHeld.body()).contains(shop.serial(2));
    assertThat(isHeld(set, shop.serial(3))).isTrue();

    assertThat(act("HOLD", "", shop.serial(2), "NOT-KNOWN").statusCode()).isEqualTo(404);
    assertThat(isHeld(set, shop.serial(2))).isFalse();
  }

  @Test
  void newReadingsAreOrderedUnderOneSignature() {
    long set = set(3);
    HttpResponse<String> answer =
        act("REMEASURE", signed(RunningService.PASSWORD), shop.serial(2), shop.serial(3));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    for (int i = 2; i <= 3; i++) {
      assertThat(shop.member(set, shop.serial(i)).get("reading").isNull()).isTrue();
      var decision =
          ApiClient.json(review.qa.get("/api/v1/review/dispositions?serial=" + shop.serial(i)))
              .get(0);
      assertThat(decision.get("kind").asString()).isEqualTo("REMEASURE");
      assertThat(decision.get("state").asString()).isEqualTo("IN_FORCE");
      assertThat(decision.get("text").asString()).isEqualTo("doubtful lot");
      assertThat(decision.get("signatures").get(0).get("person").asString())
          .isEqualTo(RunningService.username(Role.QA));
    }
  }

  @Test
  void aWrongPasswordSignsNone() {
    set(2);
    HttpResponse<String> answer = act("REMEASURE", signed("wrong"), shop.serial(2));
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("\"field\":\"password\"");
    assertThat(decisions(shop.serial(2))).isZero();
  }

  @Test
  void whatWasMeasuredSinceOrWaitsForASignatureIsNotMeasuredAgain() {
    set(3);
    String before = ", \"seenAt\": \"" + Instant.EPOCH + "\"";
    HttpResponse<String> newer =
        act("REMEASURE", signed(RunningService.PASSWORD) + before, shop.serial(2));
    assertThat(newer.statusCode()).isEqualTo(409);
    assertThat(newer.body()).contains("another reading");

    review.decided(shop.serial(3), "CONCESSION", "");
    HttpResponse<String> waits =
        act("REMEASURE", signed(RunningService.PASSWORD), shop.serial(2), shop.serial(3));
    assertThat(waits.statusCode()).isEqualTo(409);
    assertThat(waits.body()).contains(shop.serial(3)).contains("second signature");
    assertThat(decisions(shop.serial(2))).isZero();
  }

  @Test
  void sentTwiceIsDoneOnce() {
    set(2);
    String key = UUID.randomUUID().toString();
    String body = body("REMEASURE", signed(RunningService.PASSWORD), shop.serial(2));
    HttpResponse<String> first = review.qa.write("POST", PATH, body, key);
    HttpResponse<String> again = review.qa.write("POST", PATH, body, key);
    assertThat(first.statusCode()).isEqualTo(200);
    assertThat(again.body()).isEqualTo(first.body());
    assertThat(decisions(shop.serial(2))).isEqualTo(1);
  }

  @Test
  void noneAndMoreThanAHundredAreRefused() {
    String[] many = IntStream.rangeClosed(1, 101).mapToObj(i -> "MANY-" + i).toArray(String[]::new);
    for (HttpResponse<String> answer : List.of(act("HOLD", ""), act("HOLD", "", many))) {
      assertThat(answer.statusCode()).isEqualTo(400);
      assertThat(answer.body()).contains("\"field\":\"serials\"").contains("choose 1 to 100");
    }
    HttpResponse<String> bare = review.qa.post(PATH, "{\"serials\": [\"X\"]}");
    assertThat(bare.body()).contains("\"field\":\"action\"").contains("\"field\":\"reason\"");
  }

  @Test
  void byTheFormOfTheQueue() {
    long set = set(3);
    PageClient page = service.pages(Role.QA);
    String queue = "/review?order=" + shop.orderNumber();
    assertThat(page.get(queue).body()).contains("With the chosen assemblies");
    assertThat(service.pages(Role.PLANNER).get(queue).body())
        .contains(shop.serial(2))
        .doesNotContain("name=\"serials\"")
        .doesNotContain("With the chosen assemblies");

    Map<String, Object> fields = new HashMap<>();
    fields.put("query", "order=" + shop.orderNumber());
    fields.put("action", "HOLD");
    fields.put("serials", List.of(shop.serial(2), shop.serial(3)));
    fields.put("seenAt", Instant.now().toString());
    HttpResponse<String> unsaid = page.post("/review/bulk", fields);
    assertThat(unsaid.statusCode()).isEqualTo(400);
    assertThat(unsaid.body()).contains("Nothing was changed").contains("reason-error");

    fields.put("reason", "dented");
    HttpResponse<String> done = page.post("/review/bulk", fields);
    assertThat(page.location(done)).isEqualTo(queue);
    assertThat(page.get(queue).body()).contains("Held: 2.");
    assertThat(isHeld(set, shop.serial(3))).isTrue();

    HttpResponse<String> again = page.reading("de").post("/review/bulk", fields);
    assertThat(again.statusCode()).isEqualTo(409);
    assertThat(again.body()).contains("Nichts wurde geändert").contains("schon gesperrt: dented");
  }
}
