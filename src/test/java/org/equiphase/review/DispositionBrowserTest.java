package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.equiphase.review.ReviewShop.SECOND;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.List;
import java.util.Objects;
import org.equiphase.ApiClient;
import org.equiphase.Browser;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.Disposition.Kind;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.support.ui.Select;
import tools.jackson.databind.JsonNode;

/** QA decides in Chromium: from the queue to the case, to the form, to what follows. */
class DispositionBrowserTest {

  private static final String QA = RunningService.username(Role.QA);
  private static final String WORDS = "Looked at under the lamp; nothing else will do.";
  private static final String SIGN = "form[action$='/review/dispositions'] button[type=submit]";

  private static RunningService service;
  private static Browser browser;
  private static @Nullable String signedIn;

  private ReviewShop review;
  private SmallShop shop;
  private long set;

  @BeforeAll
  static void open() {
    service = RunningService.empty();
    browser = Browser.open(service.url());
  }

  @AfterAll
  static void close() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void newShop() {
    review = new ReviewShop(service);
    shop = review.shop;
    signIn(QA);
  }

  @Test
  void measureAgain() {
    short4mm();
    openCase();
    chooseAndSign(Kind.REMEASURE);

    assertThat(stateOnCase()).isEqualTo("awaiting reading");
    assertThat(lastDecision()).contains("Measure again", "in force", "Demo QA", WORDS);
    openLastDecision();
    // 4 mm short: +360·f·ΔL/(v·c)
    assertThat(browser.text("main"))
        .contains("Demo QA (qa)", "decided", String.format("+%.2f", 4 * SmallShop.degPerMm()));
    assertThat(atBench()).isEqualTo("Measure it");
    assertThat(browser.text(".reason")).contains("new reading");
    assertThat(inSet(held())).contains("awaiting reading");
  }

  /** Of 20 mm allowed 13 are cut, and 12 mm are still too much: the option computes what is new. */
  @Test
  void trimAgain() {
    set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(held(), 1015);
    assertThat(shop.signOff(shop.member(set, held()).get("current"), 13).statusCode())
        .isEqualTo(200);
    shop.measure(held(), 1012);
    openCase();
    choose(Kind.TRIM_AGAIN);
    double extraMm = Double.parseDouble(value("extraTrimMm"));
    assertThat(extraMm).isBetween(4.0, 5.1);
    assertThat(browser.text(".caution")).contains("can not be undone");
    sign();

    assertThat(lastDecision()).contains("Trim again", "in force");
    assertThat(atBench()).startsWith("Cut ").contains("mm");
    assertThat(browser.text(".caution")).contains("A cut can't be undone");
    assertThat(browser.driver.findElements(By.id("doneTrimMm"))).hasSize(1);
    assertThat(inSet(held())).contains("Cut ");
  }

  /** A stretcher of 0 to 60 mm makes up for 4 mm of cable, 4 / 0.695 mm of air. */
  @Test
  void fitALineStretcher() {
    short4mm();
    String stretcher = shop.orderNumber() + " stretcher (invented)";
    long id = stretcher(stretcher);
    openCase();
    browser.await("#options table");
    browser.submit("#options form:has(input[name=lineStretcherId][value='" + id + "']) button");
    browser.await(SIGN);
    assertThat(Double.parseDouble(value("stretcherStartMm"))).isBetween(5.7, 5.8);
    assertThat(new Select(browser.find("#lineStretcherId")).getFirstSelectedOption().getText())
        .isEqualTo(stretcher);
    sign();

    assertThat(stateOnCase()).isEqualTo("awaiting reading");
    openLastDecision();
    assertThat(browser.text("main")).contains("Fit a line stretcher", stretcher, "at 5.8 mm");
    assertThat(atBench()).isEqualTo("Measure it");
    assertThat(browser.text(".caution")).contains("Fit " + stretcher, "set to 5.8 mm");
    assertThat(inSet(held())).contains("awaiting reading");
  }

  @Test
  void swapWithOneOfThePool() {
    shop.pool = 1;
    short4mm();
    shop.measure(shop.poolSerial(1), 1000.1);
    openCase();
    choose(Kind.SWAP);
    assertThat(value("otherSerial")).isEqualTo(shop.poolSerial(1));
    sign();

    assertThat(lastDecision()).contains("Swap", "in force");
    assertThat(inSet(shop.poolSerial(1))).contains("matched");
    browser.go("/bench?serial=" + held());
    assertThat(browser.text(".about")).contains("in no set");
    browser.go("/review/cases/" + shop.poolSerial(1));
    assertThat(lastDecision()).as("the other one's page tells of it, too").contains(held());
  }

  /** The second of three is cut to 994 mm by mistake; the others follow it. */
  @Test
  void recentreTheSet() {
    set = shop.order(3, "SET", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(held(), 1002);
    shop.measure(shop.serial(3), 1000);
    assertThat(shop.signOff(shop.member(set, held()).get("current"), 8).statusCode())
        .isEqualTo(200);
    shop.measure(held(), 994);
    openCase();
    choose(Kind.RECENTRE);
    assertThat(browser.text("main")).contains("target moves from");
    assertThat(browser.text(".caution")).contains("can not be undone");
    sign();

    assertThat(stateOnCase()).isEqualTo("in tolerance");
    assertThat(atBench()).isEqualTo("In tolerance");
    assertThat(inSet(shop.serial(1))).contains("Cut ");
    assertThat(inSet(shop.serial(3))).contains("Cut ");
  }

  @Test
  void replaceByANewOne() {
    short4mm();
    String successor = held() + "-N";
    openCase();
    choose(Kind.REPLACE);
    browser.type("newSerial", successor);
    sign();

    assertThat(stateOnCase()).isEqualTo("replaced");
    assertThat(inSet(successor)).contains("awaiting reading");
    browser.go("/bench?serial=" + held());
    assertThat(browser.text(".instruction .action")).isEqualTo("Replaced: put it aside");
    assertThat(browser.driver.findElements(By.id("reading"))).isEmpty();
  }

  @Test
  void concessionTakesTwoPersons() {
    short4mm();
    openCase();
    choose(Kind.CONCESSION);
    assertThat(browser.text("main")).contains("when a second person of QA signs it too");
    sign();

    assertThat(lastDecision()).contains("Use as is (concession)", "waits for a second signature");
    assertThat(stateOnCase()).isEqualTo("on hold");
    String path = openLastDecision();
    assertThat(browser.text("main")).contains("You signed this decision first");
    assertThat(browser.driver.findElements(By.name("agrees"))).isEmpty();
    assertThat(atBench()).isEqualTo("On hold");

    signIn(SECOND);
    browser.go("/review/dispositions");
    assertThat(browser.text("main")).contains(held());
    browser.go(path);
    browser.type("text", "Seen, too.");
    browser.type("password", "not the password");
    browser.submit("button[name=agrees][value=true]");
    assertThat(browser.text(".error")).contains("nothing was signed");
    assertThat(value("text")).isEqualTo("Seen, too.");
    browser.type("password", RunningService.PASSWORD);
    browser.submit("button[name=agrees][value=true]");

    assertThat(browser.text("h1")).contains("in force");
    assertThat(browser.text("section[aria-labelledby=signatures]"))
        .contains("Demo QA (qa)", "decided", "(qa2)", "agreed", "Seen, too.");
    assertThat(atBench()).isEqualTo("Accepted by concession");
    assertThat(inSet(held())).contains("accepted by concession");
    assertThat(inSet(shop.serial(1))).contains("matched");
  }

  @Test
  void aSecondPersonDeclines() {
    short4mm();
    openCase();
    chooseAndSign(Kind.CONCESSION);
    String path = openLastDecision();

    signIn(SECOND);
    browser.go(path);
    browser.type("password", RunningService.PASSWORD);
    browser.submit("button[name=agrees][value=false]");
    assertThat(browser.find(".field.bad .error").getText()).as("why it is declined").isNotEmpty();
    browser.type("text", "The customer does not take it.");
    browser.type("password", RunningService.PASSWORD);
    browser.submit("button[name=agrees][value=false]");

    assertThat(browser.text("h1")).contains("declined");
    assertThat(browser.text("section[aria-labelledby=signatures]"))
        .contains("declined", "The customer does not take it.");
    assertThat(atBench()).isEqualTo("On hold");

    signIn(QA);
    openCase();
    choose(Kind.REMEASURE);
    assertThat(browser.text("main")).as("nothing stood").doesNotContain("It supersedes");
    sign();
    assertThat(stateOnCase()).isEqualTo("awaiting reading");
  }

  @Test
  void scrapTakesTwoPersonsAndAReplacementSupersedesIt() {
    short4mm();
    openCase();
    choose(Kind.SCRAP);
    assertThat(browser.find(SIGN).getDomAttribute("class")).isEqualTo("danger");
    sign();
    String scrapped = openLastDecision();
    assertThat(inSet(held())).contains("on hold");

    signIn(SECOND);
    browser.go(scrapped);
    browser.type("password", RunningService.PASSWORD);
    browser.submit("button[name=agrees][value=true]");
    assertThat(browser.text("h1")).contains("in force");
    assertThat(atBench()).isEqualTo("Scrapped: do not use");
    assertThat(browser.driver.findElements(By.id("reading"))).isEmpty();
    assertThat(inSet(held())).contains("scrapped");

    signIn(QA);
    openCase();
    choose(Kind.REPLACE);
    String number = scrapped.substring(scrapped.lastIndexOf('/') + 1);
    assertThat(browser.text("main")).contains("It supersedes decision " + number + ": Scrap.");
    browser.type("newSerial", held() + "-N");
    sign();
    String later = openLastDecision();
    browser.submit("a[href='" + scrapped + "']");
    assertThat(browser.text("h1")).contains("superseded");
    browser.submit("a[href='" + later + "']");
    assertThat(browser.text("h1")).contains("in force");
    assertThat(inSet(held() + "-N")).contains("awaiting reading");
  }

  @Test
  void aWrongPasswordKeepsTheForm() {
    short4mm();
    openCase();
    choose(Kind.TRIM_AGAIN);
    browser.type("extraTrimMm", "1.5");
    browser.type("tooShortPercent", "7");
    browser.choose("reasonCode", "too short");
    browser.type("text", WORDS);
    browser.type("password", "not the password");
    browser.submit(SIGN);

    assertThat(browser.text(".field.bad .error")).contains("nothing was signed");
    assertThat(value("extraTrimMm")).isEqualTo("1.5");
    assertThat(value("tooShortPercent")).isEqualTo("7");
    assertThat(value("text")).isEqualTo(WORDS);
    assertThat(value("password")).isEmpty();
    assertThat(value("reasonCode")).isEqualTo("TOO_SHORT");
    assertThat(decisions()).isEmpty();

    browser.type("password", RunningService.PASSWORD);
    browser.submit(SIGN);
    assertThat(lastDecision()).contains("Trim again", "in force");
    assertThat(decisions()).hasSize(1);
  }

  @Test
  void aDoubleClickSignsOnce() {
    short4mm();
    openCase();
    choose(Kind.REMEASURE);
    fill();
    new Actions(browser.driver).doubleClick(browser.find(SIGN)).perform();
    browser.await("#options");

    assertThat(stateOnCase()).isEqualTo("awaiting reading");
    assertThat(decisions()).hasSize(1);
  }

  private static void signIn(String username) {
    if (!username.equals(signedIn)) {
      browser.signIn(username);
      signedIn = username;
    }
  }

  /** The assembly that all of it is about. */
  private String held() {
    return shop.serial(2);
  }

  private void short4mm() {
    set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(held(), 996);
  }

  private void openCase() {
    browser.go("/review?all");
    browser.type("search", held());
    browser.submit("form[role=search] button[type=submit]");
    browser.submit("table.queue a[href$='/cases/" + held() + "']");
    assertThat(browser.text("h1")).contains(held());
  }

  /** By the first of the kind's options, which come once they are computed. */
  private static void choose(Kind kind) {
    browser.await("#options table");
    browser.submit("#options form:has(input[name=kind][value=" + kind + "]) button");
    browser.await(SIGN);
  }

  private static void chooseAndSign(Kind kind) {
    choose(kind);
    sign();
  }

  private static void fill() {
    browser.choose("reasonCode", "other, see the text");
    browser.type("text", WORDS);
    browser.type("password", RunningService.PASSWORD);
  }

  private static void sign() {
    fill();
    browser.submit(SIGN);
    browser.await("#options");
  }

  private static @Nullable String value(String name) {
    return browser
        .find("main form.panel :is(input, select, textarea)[name=" + name + "]")
        .getDomProperty("value");
  }

  private static String stateOnCase() {
    return browser.text("h1 .chip").replaceFirst("^\\W+ ", "");
  }

  private static String lastDecision() {
    return browser.text("section[aria-labelledby=decisions] tbody tr");
  }

  /** Opens it and tells its path. */
  private static String openLastDecision() {
    String link = "section[aria-labelledby=decisions] tbody tr a[href*='/review/dispositions/']";
    String path = Objects.requireNonNull(browser.find(link).getDomAttribute("href"));
    browser.submit(link);
    assertThat(browser.text("h1")).startsWith("Disposition ");
    return path;
  }

  /** What the bench says about the assembly. */
  private String atBench() {
    browser.go("/bench?serial=" + held());
    return browser.text(".instruction .action");
  }

  /** A member's row of the set page. */
  private String inSet(String serial) {
    browser.go("/sets/" + set);
    return browser.driver.findElements(By.cssSelector("table.members tbody tr")).stream()
        .map(WebElement::getText)
        .filter(row -> row.contains(serial + " "))
        .findFirst()
        .orElseThrow(() -> new AssertionError("no member " + serial));
  }

  private List<JsonNode> decisions() {
    return ApiClient.json(service.api(Role.QA).get("/api/v1/review/dispositions?serial=" + held()))
        .valueStream()
        .toList();
  }

  private long stretcher(String name) {
    var answer =
        shop.planner.post(
            "/api/v1/catalog/line-stretchers",
            """
            {"name": "%s", "geometry": "STRAIGHT", "airIndex": 1, "minMm": 0, "maxMm": 60,
             "lockMinMm": 1, "lockMaxMm": 59, "resolutionMm": 0.1, "calibration": [],
             "calibrationDue": null, "note": ""}
            """
                .formatted(name));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }
}
