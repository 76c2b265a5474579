package org.equiphase.building;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.ReviewShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Sets built of a pool over the API. A millimetre turns 4.838°, and ±3° allow 6° of spread. */
@ExtendWith(RunningService.Extension.class)
class BuildingTest {

  /** Two groups of three within 1.0 and 1.1 mm, and one that goes with none. */
  private static final List<Double> LENGTHS_MM =
      List.of(1000.0, 1000.5, 1001.0, 1003.0, 1003.4, 1004.1, 1010.0);

  private final ReviewShop review;
  private final SmallShop shop;
  private final ApiClient planner;
  private final PageClient pages;

  BuildingTest(RunningService service) {
    review = new ReviewShop(service);
    shop = review.shop;
    planner = shop.planner;
    pages = service.pages(Role.PLANNER);
    shop.pool = LENGTHS_MM.size();
  }

  private long order() {
    long setId = shop.order(2, "SET", "ABSOLUTE", "", SIMPLE);
    for (int i = 0; i < LENGTHS_MM.size(); i++) {
      shop.measure(shop.poolSerial(i + 1), LENGTHS_MM.get(i));
    }
    return setId;
  }

  private HttpResponse<String> post(String path, String json) {
    return planner.post("/api/v1/building/" + shop.orderNumber() + path, json);
  }

  private static JsonNode good(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 201);
    return ApiClient.json(answer);
  }

  private JsonNode proposed() {
    return good(post("/proposals", "{\"setSize\": 3}"));
  }

  private static List<List<String>> sets(JsonNode shown) {
    List<List<String>> sets = new ArrayList<>();
    for (JsonNode set : shown.get("sets")) {
      sets.add(set.get("members").valueStream().map(m -> m.get("serial").asString()).toList());
    }
    return sets;
  }

  private static int version(JsonNode shown) {
    return shown.get("version").asInt();
  }

  private int setsOfOrder() {
    return ApiClient.json(planner.get("/api/v1/workorders/" + shop.orderNumber()))
        .get("sets")
        .size();
  }

  private String p(int i) {
    return shop.poolSerial(i);
  }

  @Test
  void proposedCheckedMovedAndAccepted() {
    order();
    JsonNode shown = proposed();

    assertThat(sets(shown))
        .containsExactlyInAnyOrder(List.of(p(1), p(2), p(3)), List.of(p(4), p(5), p(6)));
    assertThat(shown.get("draft").get("upperBound").asInt()).isEqualTo(2);
    assertThat(shown.get("draft").get("proven").asBoolean()).isTrue();
    assertThat(shown.get("left")).hasSize(1);
    assertThat(shown.get("left").get(0).get("why").asString()).contains("Only 0 others");
    int first = sets(shown).get(0).contains(p(1)) ? 0 : 1;
    JsonNode check = shown.get("sets").get(first).get("check");
    assertThat(check.get("phases").get(0).get("used").asDouble())
        .isCloseTo(1.0 * SmallShop.degPerMm(), within(1e-6));
    assertThat(check.get("phases").get(0).get("limit").asDouble()).isCloseTo(6, within(1e-9));

    int number = shown.get("sets").get(first).get("number").asInt();
    JsonNode moved =
        good(
            post(
                "/moves",
                "{\"version\": %d, \"serials\": [\"%s\"], \"toSet\": %d}"
                    .formatted(version(shown), p(4), number)));
    JsonNode four = moved.get("sets").get(first);
    assertThat(four.get("members")).hasSize(4);
    assertThat(four.get("check").get("inside").asBoolean()).isFalse();
    assertThat(four.get("check").get("worst").asString()).isEqualTo(p(4));
    assertThat(four.get("check").get("phases").get(0).get("used").asDouble())
        .isCloseTo(3.0 * SmallShop.degPerMm(), within(1e-6));

    HttpResponse<String> early =
        post(
            "/acceptance",
            "{\"version\": %d, \"names\": [\"X\", \"Y\"]}".formatted(version(moved)));
    assertThat(early.statusCode()).isEqualTo(409);
    assertThat(early.body()).contains("members and takes 3");
    assertThat(setsOfOrder()).isEqualTo(1);

    JsonNode back =
        good(
            post(
                "/moves",
                "{\"version\": %d, \"serials\": [\"%s\"], \"toSet\": %d}"
                    .formatted(version(moved), p(4), 3 - number)));
    List<?> made =
        good(post(
                "/acceptance",
                "{\"version\": %d, \"names\": [\"X\", \"Y\"]}".formatted(version(back))))
            .valueStream()
            .toList();
    assertThat(made).hasSize(2);
    for (Object each : made) {
      JsonNode set = (JsonNode) each;
      assertThat(set.get("matchedAt").isNull()).as("as made they are in tolerance").isFalse();
      assertThat(shop.plan(set.get("id").asLong()).get("members")).hasSize(3);
    }
    assertThat(setsOfOrder()).isEqualTo(3);
    assertThat(ApiClient.json(shop.qa.get("/api/v1/audit/chain")).get("seals").toString())
        .as("the order is sealed anew with its sets")
        .doesNotContain("\"" + shop.orderNumber() + "\"");
    JsonNode after = ApiClient.json(planner.get("/api/v1/building/" + shop.orderNumber()));
    assertThat(after.get("draft").isNull()).isTrue();
    assertThat(after.get("usable")).hasSize(1);
  }

  @Test
  void aSecondPlannerIsToldOfTheConflict() {
    order();
    JsonNode shown = proposed();
    String move =
        "{\"version\": %d, \"serials\": [\"%s\"], \"toSet\": 0}".formatted(version(shown), p(1));
    good(post("/moves", move));

    HttpResponse<String> second = post("/moves", move);
    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(second.body()).contains("was changed by someone else");
    assertThat(post("/proposals", "{\"setSize\": 3}").statusCode()).isEqualTo(409);
    HttpResponse<String> accept =
        post(
            "/acceptance",
            "{\"version\": %d, \"names\": [\"X\", \"Y\"]}".formatted(version(shown)));
    assertThat(accept.statusCode()).isEqualTo(409);
    assertThat(setsOfOrder()).isEqualTo(1);
  }

  @Test
  void ofTwoAcceptancesAtOnceOneIsStored() {
    order();
    String accept = "{\"version\": %d, \"names\": [\"X\", \"Y\"]}".formatted(version(proposed()));

    List<Integer> answers =
        List.of(
                CompletableFuture.supplyAsync(() -> post("/acceptance", accept)),
                CompletableFuture.supplyAsync(() -> post("/acceptance", accept)))
            .stream()
            .map(CompletableFuture::join)
            .map(HttpResponse::statusCode)
            .sorted()
            .toList();

    assertThat(answers).containsExactly(201, 409);
    assertThat(setsOfOrder()).isEqualTo(3);
  }

  @Test
  void anAssemblyTakenMeanwhileIsRefusedAndNothingIsStored() {
    long set = order();
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1000.1);
    JsonNode shown = proposed();
    review.decided(shop.serial(1), "REPLACE", "\"newSerial\": \"%s\"".formatted(p(2)));
    assertThat(shop.plan(set).toString()).contains(p(2));

    HttpResponse<String> accept =
        post(
            "/acceptance",
            "{\"version\": %d, \"names\": [\"X\", \"Y\"]}".formatted(version(shown)));
    assertThat(accept.statusCode()).isEqualTo(409);
    assertThat(accept.body()).contains(p(2) + " of set", "Nothing was stored");
    assertThat(setsOfOrder()).isEqualTo(1);
    JsonNode after = ApiClient.json(planner.get("/api/v1/building/" + shop.orderNumber()));
    assertThat(version(after)).as("the draft still stands").isEqualTo(version(shown));
    assertThat(sets(after)).isEqualTo(sets(shown));
  }

  @Test
  void aNameThatIsTakenIsRefusedAndNothingIsStored() {
    order();
    HttpResponse<String> accept =
        post(
            "/acceptance",
            "{\"version\": %d, \"names\": [\"X\", \"A\"]}".formatted(version(proposed())));

    assertThat(accept.statusCode()).isEqualTo(400);
    assertThat(accept.body()).contains("sets[1].name", "stands twice");
    assertThat(setsOfOrder()).isEqualTo(1);
  }

  /** Offsets of ∓2° fit members 0.8 mm (3.87°) apart: the longer one belongs to the −2°. */
  @Test
  void membersGoToThePositionsThatTheyFitBest() {
    order();
    String positions =
        "\"positions\": [{\"label\": \"lead\", \"offsetPhaseDeg\": 2},"
            + " {\"label\": \"lag\", \"offsetPhaseDeg\": -2}]";
    JsonNode shown =
        good(
            post(
                "/proposals",
                "{%s, \"without\": [\"%s\", \"%s\", \"%s\", \"%s\", \"%s\"]}"
                    .formatted(positions, p(2), p(4), p(5), p(6), p(7))));
    assertThat(sets(shown)).containsExactly(List.of(p(1), p(3)));

    String both = "\"serials\": [\"%s\", \"%s\"]".formatted(p(1), p(3));
    JsonNode wrong = good(post("/moves", "{\"version\": %d, %s}".formatted(version(shown), both)));
    assertThat(sets(wrong)).containsExactly(List.of(p(3), p(1)));
    assertThat(wrong.get("sets").get(0).get("check").get("phases").get(0).get("used").asDouble())
        .as("4° between the positions and 4.838° the wrong way")
        .isCloseTo(4 + SmallShop.degPerMm(), within(1e-6));
    JsonNode right =
        good(
            post(
                "/positions",
                "{\"version\": %d, \"fit\": \"LEAST_WORST\"}".formatted(version(wrong))));
    assertThat(sets(right)).containsExactly(List.of(p(1), p(3)));
    assertThat(right.get("sets").get(0).get("check").get("phases").get(0).get("used").asDouble())
        .isCloseTo(SmallShop.degPerMm() - 4, within(1e-6));
  }

  /** 0.2 mm are 0.97°: the wrong way round the 1° between the positions make 1.97°, within 6°. */
  @Test
  void membersOfASetExchangePositionsBeforeTheFirstCut() {
    order();
    shop.measure(p(3), 1000.2);
    String positions =
        "\"positions\": [{\"label\": \"lead\", \"offsetPhaseDeg\": 0.5},"
            + " {\"label\": \"lag\", \"offsetPhaseDeg\": -0.5}]";
    JsonNode shown =
        good(
            post(
                "/proposals",
                "{%s, \"without\": [\"%s\", \"%s\", \"%s\", \"%s\", \"%s\"]}"
                    .formatted(positions, p(2), p(4), p(5), p(6), p(7))));
    JsonNode wrong =
        good(
            post(
                "/moves",
                "{\"version\": %d, \"serials\": [\"%s\", \"%s\"]}"
                    .formatted(version(shown), p(1), p(3))));
    long set =
        good(post("/acceptance", "{\"version\": %d, \"names\": [\"X\"]}".formatted(version(wrong))))
            .get(0)
            .get("id")
            .asLong();

    JsonNode choice =
        ApiClient.json(planner.get("/api/v1/building/" + shop.orderNumber() + "/sets/" + set));
    double halfOffDeg = (1 + 0.2 * SmallShop.degPerMm()) / 2;
    assertThat(choice.get("now").get("worst").asDouble()).isCloseTo(halfOffDeg / 3, within(1e-6));
    assertThat(choice.get("leastSum").get("worst").asDouble())
        .isCloseTo(Math.abs(1 - 0.2 * SmallShop.degPerMm()) / 2 / 3, within(1e-6));
    assertThat(pages.get("/building/" + shop.orderNumber() + "/sets/" + set).body())
        .contains(p(1), p(3), "lead", "lag", "value=\"LEAST_SUM\"");
    String exchange =
        "{\"version\": %d, \"fit\": \"LEAST_SUM\"}"
            .formatted(choice.get("set").get("version").asInt());
    good(post("/sets/" + set, exchange));
    assertThat(shop.member(set, p(1)).get("position").get("label").asString()).isEqualTo("lead");
    assertThat(shop.member(set, p(3)).get("position").get("label").asString()).isEqualTo("lag");
    assertThat(post("/sets/" + set, exchange).statusCode()).as("seen too early").isEqualTo(409);
  }

  @Test
  void whatIsMissingIsTold() {
    order();
    assertThat(post("/proposals", "{}").statusCode()).isEqualTo(400);
    assertThat(post("/proposals", "{\"setSize\": 1}").body()).contains("2 to 200");
    assertThat(post("/proposals", "{\"setSize\": 20}").body()).contains("7 usable assemblies");
    assertThat(post("/proposals", "{\"setSize\": 3, \"tolerancePercent\": 101}").body())
        .contains("tolerancePercent");
    assertThat(
            post("/moves", "{\"version\": 1, \"serials\": [\"%s\"], \"toSet\": 1}".formatted(p(1)))
                .statusCode())
        .isEqualTo(409);
    JsonNode shown = proposed();
    String far = "{\"version\": %d, \"serials\": [\"%s\"], \"toSet\": %d}";
    assertThat(post("/moves", far.formatted(version(shown), p(1), 9)).statusCode()).isEqualTo(400);
    assertThat(post("/moves", far.formatted(version(shown), shop.serial(1), 1)).statusCode())
        .isEqualTo(409);
    assertThat(post("/moves", "{\"version\": 1}").body()).contains("serials");
  }
}
