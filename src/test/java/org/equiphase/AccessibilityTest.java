package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.Dimension;

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
          "/review/settings");

  private static final String RUN =
      """
      const done = arguments[arguments.length - 1];
      document.documentElement.dataset.theme = arguments[0];
      document.querySelectorAll("details").forEach((d) => (d.open = true));
      axe.run(document, { resultTypes: ["violations"] }).then((result) =>
        done(result.violations
          .filter((v) => v.impact === "serious" || v.impact === "critical")
          .map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ") + " " + n.failureSummary).join(" | "))));
      """;

  @Test
  void noSeriousFinding() throws IOException {
    RunningService service = RunningService.demo();
    List<String> findings = new ArrayList<>();
    try (Browser browser = Browser.open(service.url())) {
      browser.go("/sign-in");
      check(browser, "/sign-in", findings);
      browser.signIn("technician");
      for (String page : PAGES) {
        browser.go(page);
        check(browser, page, findings);
      }
      browser.driver.manage().window().setSize(new Dimension(500, 900));
      browser.go("/bench?serial=SW-A-014");
      check(browser, "/bench?serial=SW-A-014, narrow", findings);
    }
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("qa");
      for (String page : QA_PAGES) {
        browser.go(page);
        check(browser, page, findings);
      }
    }
    assertThat(findings).isEmpty();
  }

  private static void check(Browser browser, String page, List<String> findings)
      throws IOException {
    browser.driver.executeScript(axe());
    for (String theme : List.of("light", "dark")) {
      List<?> found = (List<?>) browser.driver.executeAsyncScript(RUN, theme);
      Objects.requireNonNull(found).forEach(f -> findings.add(page + " " + theme + ": " + f));
    }
  }

  private static String axe() throws IOException {
    try (InputStream script = AccessibilityTest.class.getResourceAsStream("/axe.min.js")) {
      return new String(Objects.requireNonNull(script).readAllBytes(), StandardCharsets.UTF_8);
    }
  }
}
