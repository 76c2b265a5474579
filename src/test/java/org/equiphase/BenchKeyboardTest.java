package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.UUID;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.interactions.Actions;
import tools.jackson.databind.JsonNode;

/**
 * A set of sixteen brought to matched in a real browser by scanner and keyboard alone, with what
 * goes wrong at a bench: a wrong serial, the service gone for a while, a voided reading, another
 * technician at the same cable. Cables are lengths; their phase is −360·f·L/(v·c), the definition.
 */
class BenchKeyboardTest {

  private static final int MEMBERS = 16;
  private static final double NOMINAL_MM = 1000;

  /** A person's pause between two keys; a scanner makes none that counts. */
  private static final Duration HAND = Duration.ofMillis(80);

  private final Map<String, Double> lengthMm = new HashMap<>();
  private final List<Integer> keystrokes = new ArrayList<>();
  private int keys;

  @Test
  void aSetOfSixteenByScannerAndKeyboardAlone() throws IOException {
    int port = freePort();
    String database =
        "jdbc:h2:mem:"
            + UUID.randomUUID()
            + ";DB_CLOSE_DELAY=-1;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE"
            + ";DEFAULT_NULL_ORDERING=HIGH;LOCK_TIMEOUT=4000";
    RunningService service = start(database, port);
    try (Browser browser = Browser.open(service.url())) {
      SmallShop shop = new SmallShop(service);
      shop.order(MEMBERS, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
      Random random = new Random(20261125);
      for (int i = 1; i <= MEMBERS; i++) {
        lengthMm.put(shop.serial(i), NOMINAL_MM + 0.3 + 3 * random.nextDouble());
      }
      browser.signIn("technician");
      browser.go("/bench?benchId=" + shop.benchId);

      noteTheTemperature(browser);
      checkTheReference(browser, 30);
      for (int i = 1; i <= 3; i++) {
        measure(browser, shop.serial(i));
      }
      misScan(browser, shop);
      measure(browser, shop.serial(4));
      service = offline(browser, shop, service, database, port);
      SmallShop after = shop;
      correctAVoidedReading(browser, after, service, shop.serial(7));
      conflict(browser, shop, service, shop.serial(8));
      for (int i = 9; i <= MEMBERS; i++) {
        measure(browser, shop.serial(i));
      }
      finish(browser, service);

      JsonNode order =
          ApiClient.json(
              service.api(Role.PLANNER).get("/api/v1/workorders?number=" + shop.orderNumber()));
      assertThat(order.toString()).isNotEmpty();
      assertThat(text(browser, ".instruction .action")).isEqualTo("Matched, in tolerance");
      writeKeystrokes();
      assertThat(keystrokes).hasSizeGreaterThan(MEMBERS).allMatch(n -> n <= 3);
    } finally {
      service.close();
    }
  }

  private static RunningService start(String database, int port) {
    return RunningService.startOn(database, "equiphase.demo-accounts=true", "server.port=" + port);
  }

  private void noteTheTemperature(Browser browser) {
    press(browser, Keys.F3);
    awaitFocus(browser, "benchTemperatureC");
    hand(browser, "23");
    send(browser, Keys.ENTER);
    waitFor(browser, ".station .state", "23.0 °C");
    awaitFocus(browser, "serial");
  }

  private void checkTheReference(Browser browser, double phaseDeg) {
    press(browser, Keys.F8);
    awaitFocus(browser, "checkPhase");
    hand(browser, plain(phaseDeg));
    send(browser, Keys.ENTER);
    awaitFocus(browser, "serial");
  }

  /** A scan, then the digits and Enter; afterwards the page says what to do. */
  private void measure(Browser browser, String serial) {
    scan(browser, serial);
    assertThat(text(browser, ".instruction .action")).startsWith("Measure it");
    logReading(browser, serial);
    cutIfTold(browser, serial);
  }

  private void logReading(Browser browser, String serial) {
    keys = 0;
    awaitFocus(browser, "phaseDeg");
    hand(browser, reading(serial));
    send(browser, Keys.ENTER);
    awaitInstruction(browser, serial, "Measure it");
    keystrokes.add(keys);
  }

  /** Cuts with a hand that is off by a twentieth of a millimetre, signs off, measures again. */
  private void cutIfTold(Browser browser, String serial) {
    String instruction = text(browser, ".instruction .action");
    while (instruction.startsWith("Cut ")) {
      double asked = Double.parseDouble(instruction.split(" ")[1]);
      double done = asked + 0.05;
      lengthMm.merge(serial, -done, Double::sum);
      keys = 0;
      awaitFocus(browser, "doneTrimMm");
      hand(browser, plain(done));
      send(browser, Keys.ENTER);
      waitFor(browser, ".instruction .action", "Measure it again");
      keystrokes.add(keys);
      logReading(browser, serial);
      instruction = text(browser, ".instruction .action");
    }
    assertThat(instruction).matches("In tolerance|Matched, in tolerance");
  }

  private void misScan(Browser browser, SmallShop shop) {
    scan(browser, shop.serial(4));
    hand(browser, "-12");
    type(browser, "XX-99" + Keys.ENTER);
    waitFor(browser, "#alarm", "No assembly has the serial XX-99");
    assertThat(browser.find("#alarm").getDomAttribute("class")).contains("loud");
    assertThat(browser.find("body").getDomAttribute("data-sounded")).isEqualTo("wrong");
    assertThat(text(browser, ".about > .serial")).isEqualTo(shop.serial(4));
    assertThat(value(browser, "input[name=phaseDeg]")).isEqualTo("-12");
    awaitFocus(browser, "serial");
    press(browser, Keys.ESCAPE);
    assertThat(text(browser, "#alarm")).isEmpty();

    // What was typed comes back with the next scan of the same cable, and goes when it is cleared.
    scan(browser, shop.serial(4));
    assertThat(value(browser, "input[name=phaseDeg]")).isEqualTo("-12");
    for (int i = 0; i < 3; i++) {
      send(browser, Keys.BACK_SPACE);
    }
  }

  /** Two readings while the service is away; each is stored once when it is back. */
  private RunningService offline(
      Browser browser, SmallShop shop, RunningService service, String database, int port) {
    String first = shop.serial(5);
    String second = shop.serial(6);
    scan(browser, first);
    service.close();
    hand(browser, reading(first));
    send(browser, Keys.ENTER);
    waitFor(browser, "#queue", "reading of " + first);
    assertThat(text(browser, "#queue")).contains("No connection to the service");

    type(browser, second + Keys.ENTER);
    waitFor(browser, ".about", second);
    assertThat(text(browser, ".instruction .action")).isEqualTo("No connection: log the reading");
    awaitFocus(browser, "phaseDeg");
    hand(browser, reading(second));
    send(browser, Keys.ENTER);
    waitFor(browser, "#queue", "reading of " + second);

    // Codes of sheets: a step is kept, a sheet of another revision is not taken for this one.
    type(browser, second + "/A/1" + Keys.ENTER);
    waitFor(browser, "#queue", "step " + second + "/A/1");
    for (String old : List.of(second + "/B", second + "/B/2")) {
      type(browser, old + Keys.ENTER);
      waitFor(browser, "#alarm", old + " is of another revision");
    }

    type(browser, "ZZ-1234" + Keys.ENTER);
    waitFor(browser, "#alarm", "ZZ-1234");

    RunningService again = start(database, port);
    browser.waiting().until(d -> d.findElements(By.cssSelector("#queue li")).isEmpty());
    JsonNode steps =
        ApiClient.json(
            again.api(Role.TECHNICIAN).get("/api/v1/traveler/assemblies/" + second + "/steps"));
    assertThat(steps.at("/0/by").asString()).isEqualTo("technician");
    assertThat(steps.at("/1/status").asString()).isEqualTo("OPEN");
    for (String serial : List.of(first, second)) {
      JsonNode stored =
          ApiClient.json(again.api(Role.TECHNICIAN).get("/api/v1/readings?serial=" + serial));
      assertThat(stored.size()).as(serial).isEqualTo(1);
      assertThat(stored.get(0).get("recordedBy").asString()).isEqualTo("technician");
      scan(browser, serial);
      cutIfTold(browser, serial);
    }
    return again;
  }

  /** A slip of the hand: void with a reason, take the values again, mend them. */
  private void correctAVoidedReading(
      Browser browser, SmallShop shop, RunningService service, String serial) {
    double right = length(serial);
    scan(browser, serial);
    lengthMm.put(serial, right + 4);
    logReading(browser, serial);
    lengthMm.put(serial, right);
    press(browser, Keys.F9);
    awaitFocus(browser, "reason");
    hand(browser, "slip of the hand");
    send(browser, Keys.ENTER);
    waitFor(browser, ".instruction .action", "Measure it");
    chord(browser, Keys.SHIFT, Keys.F9);
    browser.waiting().until(d -> !value(browser, "input[name=phaseDeg]").isEmpty());
    awaitFocus(browser, "phaseDeg");
    hand(browser, reading(serial));
    send(browser, Keys.ENTER);
    awaitInstruction(browser, serial, "Measure it");
    cutIfTold(browser, serial);
    JsonNode stored =
        ApiClient.json(service.api(Role.TECHNICIAN).get("/api/v1/readings?serial=" + serial));
    JsonNode oldest = stored.get(stored.size() - 1);
    assertThat(oldest.get("voided").get("reason").asString()).isEqualTo("slip of the hand");
  }

  /** QA logs a reading of the same cable between this technician's look and their Enter. */
  private void conflict(Browser browser, SmallShop shop, RunningService service, String serial) {
    scan(browser, serial);
    var other =
        service
            .api(Role.QA)
            .post(
                "/api/v1/readings",
                String.format(
                    Locale.ROOT,
                    "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23, \"spots\":"
                        + " [{\"frequencyHz\": 2.8e9, \"phaseDeg\": %s}]}",
                    serial,
                    shop.benchId,
                    reading(serial)));
    assertThat(other.statusCode()).as(other.body()).isEqualTo(201);
    String typed = reading(serial);
    hand(browser, typed);
    send(browser, Keys.ENTER);
    waitFor(browser, "#said", "qa logged a reading of " + serial);
    assertThat(value(browser, "input[name=phaseDeg]")).isEqualTo(typed);
    assertThat(ApiClient.json(service.api(Role.QA).get("/api/v1/readings?serial=" + serial)).size())
        .isEqualTo(1);
    scan(browser, serial);
    cutIfTold(browser, serial);
  }

  /** By the suggested order until nothing is left to do. */
  private void finish(Browser browser, RunningService service) {
    for (int i = 0; i < 2 * MEMBERS; i++) {
      String next = text(browser, "[data-key=F2]");
      if (next.isEmpty()) {
        return;
      }
      String serial = next.replaceFirst("Next: ", "");
      press(browser, Keys.F2);
      waitFor(browser, ".about > .serial", serial);
      if (text(browser, ".instruction .action").startsWith("Measure it")) {
        logReading(browser, serial);
      }
      cutIfTold(browser, serial);
    }
    throw new AssertionError("the set is not finished");
  }

  private double length(String serial) {
    return Objects.requireNonNull(lengthMm.get(serial), serial);
  }

  private String reading(String serial) {
    return String.format(Locale.ROOT, "%.3f", SmallShop.phaseDeg(length(serial)));
  }

  private static String plain(double value) {
    return String.format(Locale.ROOT, "%.2f", value);
  }

  /** As a wedge scanner types it, whatever has the focus. */
  private void scan(Browser browser, String serial) {
    type(browser, serial + Keys.ENTER);
    waitFor(browser, ".about > .serial", serial);
    browser.waiting().until(d -> value(browser, "#serial").isEmpty());
  }

  private static void type(Browser browser, String text) {
    new Actions(browser.driver).sendKeys(text).perform();
  }

  /** Digits as a hand types them; they are the reading itself and don't count as keystrokes. */
  private static void hand(Browser browser, String text) {
    Actions actions = new Actions(browser.driver);
    for (char c : text.toCharArray()) {
      actions.pause(HAND).sendKeys(String.valueOf(c));
    }
    actions.pause(HAND).perform();
  }

  private void send(Browser browser, Keys key) {
    keys++;
    new Actions(browser.driver).pause(HAND).sendKeys(key).perform();
  }

  private void press(Browser browser, Keys key) {
    send(browser, key);
  }

  private void chord(Browser browser, Keys held, Keys key) {
    keys++;
    new Actions(browser.driver).keyDown(held).sendKeys(key).keyUp(held).perform();
  }

  private static void waitFor(Browser browser, String css, String text) {
    browser
        .waiting()
        .ignoring(org.openqa.selenium.StaleElementReferenceException.class)
        .withMessage(() -> css + " should say " + text)
        .until(
            d ->
                d.findElements(By.cssSelector(css)).stream()
                    .anyMatch(e -> e.getText().contains(text)));
  }

  private static void awaitInstruction(Browser browser, String serial, String before) {
    browser
        .waiting()
        .ignoring(org.openqa.selenium.StaleElementReferenceException.class)
        .withMessage(() -> serial + ": an instruction other than " + before)
        .until(d -> !text(browser, ".instruction .action").startsWith(before));
    assertThat(text(browser, ".about > .serial")).isEqualTo(serial);
  }

  /** Waits until the keyboard is where it should be, by the field's id or its name. */
  private static void awaitFocus(Browser browser, String field) {
    browser
        .waiting()
        .withMessage(() -> "the keyboard should be in " + field)
        .until(
            d ->
                Boolean.TRUE.equals(
                    browser.driver.executeScript(
                        "const a = document.activeElement;"
                            + " return a.id === arguments[0] || a.name === arguments[0];",
                        field)));
  }

  /** In one step, since an answer may replace the part of the page between two. */
  private static String text(Browser browser, String css) {
    return read(browser, css, "innerText");
  }

  private static String value(Browser browser, String css) {
    return read(browser, css, "value");
  }

  private static String read(Browser browser, String css, String property) {
    Object found =
        browser.driver.executeScript(
            "return document.querySelector(arguments[0])?.[arguments[1]] ?? ''", css, property);
    return String.valueOf(found).strip();
  }

  /** The table for the documentation, where a person asks for it. */
  private void writeKeystrokes() throws IOException {
    String file = System.getProperty("equiphase.keystrokes", "");
    if (!file.isEmpty()) {
      Files.writeString(Path.of(file), keystrokes.toString());
    }
  }

  private static int freePort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
