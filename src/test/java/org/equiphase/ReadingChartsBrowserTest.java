package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.equiphase.account.Role;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.workorder.WorkOrders;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.support.ui.Select;

/** What the scripts of the pictures do, in Chromium. */
class ReadingChartsBrowserTest {

  private static RunningService service;
  private static Browser browser;

  @BeforeAll
  static void open() {
    service = RunningService.demo();
    browser = Browser.open(service.url());
    browser.signIn(RunningService.username(Role.TECHNICIAN));
  }

  @AfterAll
  static void close() {
    if (browser != null) {
      browser.close();
    }
  }

  /** Each row of the table was computed on the server, by {@code rf.SmithChart}. */
  @Test
  void theScriptComputesWhatTheServerDoes() {
    show("UH-001");
    List<WebElement> rows = browser.driver.findElements(By.cssSelector("tr[data-state]"));
    assertThat(rows.size()).isGreaterThanOrEqualTo(5);

    for (WebElement row : rows) {
      new Select(browser.find("[data-mark]")).selectByValue(data(row, "data-frequency-hz"));
      browser.driver.executeScript(
          "const s = document.querySelector('[data-setting]'); s.value = arguments[0];"
              + " s.dispatchEvent(new Event('input', {bubbles: true}))",
          data(row, "data-setting"));

      assertThat(said("setting")).isEqualTo(number(row, "data-setting"));
      assertThat(said("added")).isCloseTo(number(row, "data-added"), within(1e-9));
      assertThat(said("phaseChange")).isCloseTo(number(row, "data-phase-change"), within(1e-9));
      assertThat(said("gammaPhase")).isCloseTo(number(row, "data-gamma-phase"), within(1e-9));
      String[] ohms = data(browser.find("[data-out=impedance]"), "data-value").split(" ", 2);
      double re = number(row, "data-re");
      double im = number(row, "data-im");
      assertThat(Double.parseDouble(ohms[0])).isCloseTo(re, within(1e-9 * (re * re + im * im)));
      assertThat(Double.parseDouble(ohms[1])).isCloseTo(im, within(1e-9 * (re * re + im * im)));
      // The words are those of the server's table, too.
      assertThat(browser.text("[data-out=impedance]"))
          .isEqualTo(text(row.findElements(By.tagName("td")).get(5)));
      assertThat(browser.text("[data-out=phaseChange]"))
          .isEqualTo(text(row.findElements(By.tagName("td")).get(3)) + "°");
    }
  }

  /** By arrow keys: one step of the resolution, and the mark turns clockwise on its circle. */
  @Test
  void theStretcherIsRehearsedByKeys() {
    show("UH-001");
    double[] before = turned();
    WebElement slider = browser.find("[data-setting]");
    slider.sendKeys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT);

    assertThat(said("setting")).isEqualTo(71);
    double[] after = turned();
    assertThat(Math.hypot(after[0], after[1]))
        .isCloseTo(Math.hypot(before[0], before[1]), within(1e-9));
    assertThat(before[0] * after[1] - before[1] * after[0])
        .as("clockwise, y downwards")
        .isPositive();
    assertThat(slider.getAttribute("aria-valuetext")).startsWith("71 mm");

    slider.sendKeys(Keys.END);
    assertThat(browser.find("[data-out-of-lock]").isDisplayed()).isTrue();
    browser.find("[data-present]").sendKeys(Keys.ENTER);
    assertThat(said("setting")).isEqualTo(70);
    assertThat(turned()).containsExactly(before, within(1e-12));
    assertThat(browser.find("[data-out-of-lock]").isDisplayed()).isFalse();
  }

  @Test
  void linesAreSwitchedWithoutLoading() {
    show("SW-A-001");
    assertThat(browser.find(".smith-lines").isDisplayed()).isTrue();
    assertThat(browser.find(".polar-lines").isDisplayed()).isFalse();

    browser.find("input[value=polar]").sendKeys(Keys.SPACE);

    assertThat(browser.find(".smith-lines").isDisplayed()).isFalse();
    assertThat(browser.find(".polar-lines").isDisplayed()).isTrue();
  }

  @Test
  void theSweepIsZoomedAndReadByKeys() {
    show("SW-A-001");
    awaitPlots(4);
    String atSpot = browser.text("[data-values]");
    assertThat(atSpot).startsWith("At 2.7600 GHz: phase " + shown(reading("SW-A-001")));
    double whole = spread();

    browser.find("[data-zoom=in]").sendKeys(Keys.ENTER);
    assertThat(spread()).isCloseTo(whole / 2, within(whole * 1e-6));
    browser.find("[data-zoom=left]").sendKeys(Keys.ENTER);
    browser.find("[data-zoom=out]").sendKeys(Keys.ENTER);
    browser.find("[data-zoom=whole]").sendKeys(Keys.ENTER);
    assertThat(spread()).isCloseTo(whole, within(1e-9));
    browser.find("[data-cursor]").sendKeys(Keys.ARROW_RIGHT);
    assertThat(browser.text("[data-values]")).startsWith("At 2.7650 GHz");
  }

  /** Charts start when htmx swaps them in, and their number stays that of the page. */
  @Test
  void chartsSurviveSwaps() {
    show("SW-A-001");
    awaitPlots(4);
    long id = reading("UH-001").id();
    for (int i = 0; i < 5; i++) {
      browser.driver.executeAsyncScript(
          "const done = arguments[1];"
              + "htmx.ajax('GET', '/readings/' + arguments[0] + '/charts',"
              + " {target: document.querySelector('.charts'), swap: 'outerHTML'}).then(done)",
          id);
      awaitPlots(4);
    }
    assertThat(browser.driver.findElements(By.cssSelector(".uplot"))).hasSize(4);
    browser.find("[data-setting]").sendKeys(Keys.ARROW_RIGHT);
    assertThat(said("setting")).isEqualTo(70.5);
    assertThat(browser.driver.findElements(By.cssSelector("script[src*=uPlot]"))).hasSize(1);
  }

  private static void show(String serial) {
    browser.go("/readings/" + reading(serial).id());
    browser.await("[data-reflection-chart]");
  }

  private static Reading reading(String serial) {
    List<Reading> history =
        service
            .bean(Readings.class)
            .history(service.bean(WorkOrders.class).assemblyBySerial(serial).id());
    return history.get(history.size() - 1);
  }

  private static String shown(Reading reading) {
    return String.format(Locale.ROOT, "%.2f°", reading.spots().get(0).phaseDeg()).replace('-', '−');
  }

  private static void awaitPlots(int count) {
    browser
        .waiting()
        .until(
            d ->
                d.findElements(By.cssSelector(".uplot")).size() == count
                    && !d.findElement(By.cssSelector("[data-values]")).getText().equals("–"));
  }

  /** Width of the frequency band between the outermost labels, by the script's own range. */
  private static double spread() {
    Object range =
        browser.driver.executeScript(
            "const c = document.querySelector('[data-sweep-chart]').dataset;"
                + " return c.toGhz - c.fromGhz");
    return ((Number) Objects.requireNonNull(range)).doubleValue();
  }

  private static double[] turned() {
    String[] parts =
        data(browser.find("[data-turned]"), "transform")
            .replaceAll("translate\\(|\\)", "")
            .split(" ", 2);
    return new double[] {Double.parseDouble(parts[0]), Double.parseDouble(parts[1])};
  }

  private static double said(String name) {
    return Double.parseDouble(data(browser.find("[data-out=" + name + "]"), "data-value"));
  }

  private static double number(WebElement element, String attribute) {
    return Double.parseDouble(data(element, attribute));
  }

  private static String data(WebElement element, String attribute) {
    return Objects.requireNonNull(element.getDomAttribute(attribute), attribute);
  }

  /** The text also where a closed part of the page hides it. */
  private static String text(WebElement element) {
    return Objects.requireNonNull(element.getDomProperty("textContent")).strip();
  }
}
