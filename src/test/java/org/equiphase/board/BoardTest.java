package org.equiphase.board;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.HashMap;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.ReviewShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** The board against small shops whose numbers are known. */
@ExtendWith(RunningService.Extension.class)
class BoardTest {

  private final RunningService service;
  private final SmallShop shop;

  BoardTest(RunningService service) {
    this.service = service;
    shop = new ReviewShop(service).shop;
  }

  private JsonNode line() {
    JsonNode lines =
        ApiClient.json(shop.planner.get("/api/v1/board?search=" + shop.orderNumber())).get("lines");
    for (JsonNode line : lines) {
      if (line.get("order").get("number").asString().equals(shop.orderNumber())) {
        return line;
      }
    }
    throw new AssertionError("not on the board");
  }

  private static Map<String, Integer> stages(JsonNode line) {
    Map<String, Integer> stages = new HashMap<>();
    line.get("parts")
        .forEach(p -> stages.put(p.get("stage").asString(), p.get("assemblies").asInt()));
    return stages;
  }

  /** 3 mm too long is to be cut, 4 mm too short is on hold. */
  @Test
  void countsByWhatTheyWaitFor() {
    shop.pool = 1;
    shop.order(4, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1003);
    shop.measure(shop.serial(3), 996);
    shop.measure(shop.poolSerial(1), 1000);

    JsonNode line = line();
    assertThat(stages(line))
        .isEqualTo(
            Map.of(
                "AWAITING_READING",
                1,
                "MEASURED",
                1,
                "TO_ADJUST",
                1,
                "ON_HOLD",
                1,
                "IN_TOLERANCE",
                1));
    assertThat(line.get("assemblies").asInt()).isEqualTo(5);
    assertThat(line.get("findings").get("SHORT").asInt()).isEqualTo(1);
    assertThat(line.get("promise").asString()).isEqualTo("NONE");
    assertThat(line.get("cutsLeft").isNull()).as("no history").isTrue();
    PageClient pages = service.pages(Role.PLANNER);
    assertThat(pages.get("/board?search=" + shop.orderNumber()).body())
        .contains("1 to adjust", "1 ×", "no history");
    assertThat(pages.reading("de").get("/board?search=" + shop.orderNumber()).body())
        .contains("1 abzugleichen", "keine Erfahrung");
  }

  /**
   * Five are decided, three of them after one cut each: mean 0.6, variance (3 − 3²/5)/4 = 0.3. Two
   * unread: 1.2 cuts, variance 2·0.3 + 4·0.3/5 = 0.84.
   */
  @Test
  void forecastsCutsFromTheLotsHistory() {
    long set = shop.order(7, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    for (int i = 1; i <= 2; i++) {
      shop.measure(shop.serial(i), 1000);
    }
    for (int i = 3; i <= 5; i++) {
      shop.measure(shop.serial(i), 1003);
      JsonNode cut = shop.member(set, shop.serial(i)).get("current");
      assertThat(shop.signOff(cut, cut.get("trimMm").asDouble()).statusCode()).isEqualTo(200);
      shop.measure(shop.serial(i), 1000);
    }

    JsonNode left = line().get("cutsLeft");
    assertThat(left.get("decided").asInt()).isEqualTo(5);
    assertThat(left.get("ofLot").asBoolean()).isTrue();
    assertThat(left.get("expected").asDouble()).isCloseTo(1.2, within(1e-9));
    assertThat(left.get("plusMinus").asDouble()).isCloseTo(2 * Math.sqrt(0.84), within(1e-9));
  }

  @Test
  void eachRoleSeesItsOwnNumbers() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 996);

    assertThat(glances(Role.TECHNICIAN).keySet())
        .containsExactlyInAnyOrder("MY_ASSEMBLIES", "LAID_DOWN", "CHECKS_DUE");
    assertThat(glances(Role.QA).keySet()).containsExactlyInAnyOrder("FINDINGS", "SIGNATURES");
    assertThat(glances(Role.QA).get("FINDINGS")).isPositive();
    assertThat(glances(Role.PLANNER).keySet())
        .containsExactlyInAnyOrder("OVERDUE", "DUE_SOON", "BLOCKED");
    assertThat(glances(Role.PLANNER).get("BLOCKED")).isPositive();
    assertThat(glances(Role.ADMINISTRATOR)).isEmpty();

    long before = glances(Role.TECHNICIAN).getOrDefault("MY_ASSEMBLIES", 0L);
    service
        .pages(Role.TECHNICIAN)
        .get("/bench?serial=" + shop.serial(2) + "&benchId=" + shop.benchId);
    assertThat(glances(Role.TECHNICIAN).get("MY_ASSEMBLIES")).isEqualTo(before + 1);
  }

  private Map<String, Long> glances(Role role) {
    Map<String, Long> glances = new HashMap<>();
    ApiClient.json(service.api(role).get("/api/v1/board/glance"))
        .forEach(g -> glances.put(g.get("what").asString(), g.get("number").asLong()));
    return glances;
  }

  @Test
  void aPageThatIsNoneIsRefused() {
    assertThat(shop.planner.get("/api/v1/board?page=-1").statusCode()).isEqualTo(400);
  }
}
