package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.ReviewShop;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Dimension;
import tools.jackson.databind.JsonNode;

/**
 * Pages against the rules of axe-core, which follow WCAG 2: no finding that it calls serious or
 * critical, light and dark, at the width of a desk screen and of a phone.
 */
class AccessibilityTest {

  private static final List<String> PAGES =
      List.of(
          "/bench",
          "/bench?serial=SW-A-014",
          "/bench?serial=SW-A-003",
          "/bench?serial=SW-A-010",
          "/bench?serial=SW-B-001",
          "/bench?serial=NOT-KNOWN",
          "/sets/1",
          "/release",
          "/release/sets/1",
          "/assemblies/SW-A-014",
          "/readings/1",
          "/workorders",
          "/workorders/QCW-1001",
          "/board",
          "/building/QCW-1003",
          "/traveler/workorders/QCW-1001",
          "/traveler/assemblies/SW-A-014",
          "/traveler/routes",
          "/traveler/routes/1",
          "/traveler/steps",
          "/files",
          "/catalog",
          "/calculator",
          "/calculator/length",
          "/process",
          "/process/chart?small=CUSUM&by=BENCH",
          "/process/yield",
          "/process/causes",
          "/process/velocity",
          "/account");

  /** Pages that show more to QA. */
  private static final List<String> QA_PAGES =
      List.of(
          "/review",
          "/review/views",
          "/review/dispositions",
          "/review/dispositions/new?serial=SW-A-014&kind=TRIM_AGAIN",
          "/review/dispositions/new?serial=SW-A-012&kind=SCRAP",
          "/review/settings",
          "/review/cases/SW-A-007",
          "/review/cases/SW-A-007/options",
          "/review/sets/1",
          "/audit",
          "/audit/chain",
          "/gauge-studies",
          "/gauge-studies/new");

  /** Pages that only a planner sees. */
  private static final List<String> PLANNER_PAGES =
      List.of(
          "/workorders/new",
          "/workorders/new?copy=QCW-1001",
          "/workorders/QCW-1001",
          "/workorders/QCW-1001/revise",
          "/workorders/imports");

  private static final String HOLD = "{\"reason\": \"to look at it\"}";
  private static final String SIGNED = "{\"password\": \"%s\"}".formatted(RunningService.PASSWORD);
  private static final String VIEW =
      """
      {"name": "View of %s", "query": "search=T", "shared": false, "opensFirst": false}
      """;
  private static final String STUDY =
      """
      {"name": "Study %s", "benchId": %d, "frequencyHz": 2.8e9, "toleranceWidthDeg": 8,
       "trials": 2, "seed": 7, "parts": ["%s", "%s"], "appraisers": ["qa", "qa2"]}
      """;
  private static final String VALUE = "{\"turn\": %d, \"serial\": \"%s\", \"phaseDeg\": %s}";
  private static final String STATUS =
      "return performance.getEntriesByType('navigation')[0].responseStatus";

  /** Of rows alike in elements, classes and attributes, a third one can't bring a new finding. */
  private static final String PREPARE =
      """
      document.querySelectorAll("details").forEach((d) => (d.open = true));
      const like = (e) => e.tagName + e.getAttribute("class") + e.getAttributeNames()
        + !e.textContent.trim() + "(" + [...e.children].map(like) + ")";
      document.querySelectorAll("tbody, ul, ol").forEach((list) => {
        const seen = {};
        [...list.children].forEach((row) => {
          const kind = like(row);
          seen[kind] = (seen[kind] ?? 0) + 1;
          if (seen[kind] > 2) row.remove();
        });
      });
      """;

  private static final String RUN =
      """
      const [theme, rules, done] = arguments;
      document.documentElement.dataset.theme = theme;
      axe.run(document, { resultTypes: ["violations"], ...rules }).then((result) =>
        done(result.violations
          .filter((v) => v.impact === "serious" || v.impact === "critical")
          .map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ") + " " + n.failureSummary).join(" | "))));
      """;

  /** The dark theme differs by its colours only. */
  private static final Map<String, Map<String, ?>> RULES =
      Map.of("light", Map.of(), "dark", Map.of("runOnly", List.of("cat.color")));

  @Test
  void noSeriousFinding() throws IOException {
    RunningService service = RunningService.demo();
    List<String> findings = new ArrayList<>();
    try (Browser browser = Browser.open(service.url())) {
      browser.go("/sign-in");
      check(browser, "/sign-in", findings);
      browser.signIn("technician");
      for (String page : PAGES) {
        show(browser, page);
        check(browser, page, findings);
      }
      browser.driver.manage().window().setSize(new Dimension(500, 900));
      browser.go("/bench?serial=SW-A-014");
      check(browser, "/bench?serial=SW-A-014, narrow", findings);
    }
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("qa");
      for (String page : QA_PAGES) {
        show(browser, page);
        check(browser, page, findings);
      }
      browser.signIn("planner");
      for (String page : PLANNER_PAGES) {
        show(browser, page);
        check(browser, page, findings);
      }
    }
    assertThat(findings).isEmpty();
  }

  /** Pages of what was decided, released and studied, as QA sees them. */
  @Test
  void noSeriousFindingOnceThereIsSomethingToShow() throws IOException {
    RunningService service = RunningService.empty();
    ReviewShop review = new ReviewShop(service);
    SmallShop shop = review.shop;
    long set = shop.order(3, "NOMINAL", "ABSOLUTE", "", ReviewShop.SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1000.1);
    shop.measure(shop.serial(3), 996);
    post(review.qa, "/api/v1/review/assemblies/" + shop.serial(2) + "/hold", HOLD);
    long first = review.decided(shop.serial(3), "REMEASURE", "").get("id").asLong();
    shop.measure(shop.serial(3), 996);
    long pending = review.decided(shop.serial(3), "CONCESSION", "").get("id").asLong();
    post(review.qa, "/api/v1/review/views", VIEW.formatted(shop.orderNumber()));
    SmallShop other = new SmallShop(service);
    long released = other.order(2, "SET", "ABSOLUTE", "", ReviewShop.SIMPLE);
    other.measure(other.serial(1), 1000);
    other.measure(other.serial(2), 1000.1);
    long release = post(review.qa, "/api/v1/release/sets/" + released, SIGNED).get("id").asLong();
    long running = study(review.qa, other);
    long complete = study(review.qa, other);
    measure(complete, review.qa, other);
    measure(complete, review.second, other);

    List<String> findings = new ArrayList<>();
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn(ReviewShop.SECOND);
      browser.go("/review/dispositions/" + pending);
      check(browser, "a pending decision", findings);
      browser.signIn(RunningService.username(Role.QA));
      for (String page :
          List.of(
              "/review?search=" + shop.serial(3),
              "/review/views",
              "/review/dispositions",
              "/review/dispositions/" + first,
              "/review/dispositions/" + pending,
              "/review/cases/" + shop.serial(3),
              "/sets/" + set,
              "/release?number=" + other.orderNumber(),
              "/release/sets/" + released,
              "/release/" + release + "/check",
              "/sets/" + released,
              "/bench?serial=" + other.serial(1),
              "/gauge-studies",
              "/gauge-studies/" + running,
              "/gauge-studies/" + complete,
              "/bench/gauge/" + running)) {
        show(browser, page);
        check(browser, page, findings);
      }
    }
    assertThat(findings).isEmpty();
  }

  private static long study(ApiClient qa, SmallShop shop) {
    return post(
            qa,
            "/api/v1/gauge-studies",
            STUDY.formatted(shop.orderNumber(), shop.benchId, shop.serial(1), shop.serial(2)))
        .get("id")
        .asLong();
  }

  private static void measure(long study, ApiClient person, SmallShop shop) {
    String path = "/api/v1/bench/gauge/" + study;
    for (int turn = 1; turn <= 4; turn++) {
      String serial = ApiClient.json(person.get(path + "/next")).get("serial").asString();
      double phaseDeg = (serial.equals(shop.serial(1)) ? 30 : 40) + 0.1 * turn;
      post(person, path + "/values", VALUE.formatted(turn, serial, phaseDeg));
    }
  }

  private static JsonNode post(ApiClient person, String path, String body) {
    HttpResponse<String> answer = person.post(path, body);
    assertThat(answer.statusCode()).as(path + ": " + answer.body()).isBetween(200, 299);
    return ApiClient.json(answer);
  }

  /** Opens a page that there is. */
  private static void show(Browser browser, String page) {
    browser.go(page);
    assertThat(browser.driver.findElements(By.linkText("To the start page"))).as(page).isEmpty();
    assertThat(browser.driver.executeScript(STATUS)).as(page).isNotEqualTo(500L);
  }

  private static void check(Browser browser, String page, List<String> findings)
      throws IOException {
    browser.driver.executeScript(axe() + PREPARE);
    RULES.forEach(
        (theme, rules) -> {
          List<?> found = (List<?>) browser.driver.executeAsyncScript(RUN, theme, rules);
          Objects.requireNonNull(found).forEach(f -> findings.add(page + " " + theme + ": " + f));
        });
  }

  private static String axe() throws IOException {
    try (InputStream script = AccessibilityTest.class.getResourceAsStream("/axe.min.js")) {
      return new String(Objects.requireNonNull(script).readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
