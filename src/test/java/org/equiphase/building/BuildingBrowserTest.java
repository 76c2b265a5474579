package org.equiphase.building;

import static org.assertj.core.api.Assertions.assertThat;
import static org.equiphase.review.ReviewShop.SIMPLE;

import java.util.List;
import org.equiphase.Browser;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.review.ReviewShop;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.WindowType;
import org.openqa.selenium.interactions.Actions;

/** A planner builds sets in Chromium, and finds the order on the board. */
class BuildingBrowserTest {

  private static final List<Double> LENGTHS_MM =
      List.of(1000.0, 1000.5, 1001.0, 1003.0, 1003.4, 1004.1, 1010.0);

  private static RunningService service;
  private static Browser browser;

  private SmallShop shop;

  @BeforeAll
  static void open() {
    service = RunningService.empty();
    browser = Browser.open(service.url());
    browser.signIn(RunningService.username(Role.PLANNER));
  }

  @AfterAll
  static void close() {
    if (browser != null) {
      browser.close();
    }
  }

  @BeforeEach
  void newPool() {
    shop = new ReviewShop(service).shop;
    shop.pool = LENGTHS_MM.size();
    shop.order(2, "SET", "ABSOLUTE", "", SIMPLE);
    for (int i = 0; i < LENGTHS_MM.size(); i++) {
      shop.measure(shop.poolSerial(i + 1), LENGTHS_MM.get(i));
    }
  }

  private void propose() {
    browser.go("/workorders/" + shop.orderNumber());
    browser.submit("a[href='/building/" + shop.orderNumber() + "']");
    browser.type("setSize", "3");
    browser.submit("form[action$='/proposals'] button[type=submit]");
  }

  private static void choose(String serial) {
    WebElement box = browser.find("#moves input[value='" + serial + "']");
    // Out from under the bar, which stays in view.
    browser.driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", box);
    box.click();
  }

  private static WebElement setOf(String serial) {
    return browser
        .find("#moves input[value='" + serial + "']")
        .findElement(By.xpath("ancestor::section"));
  }

  @Test
  void proposedMovedAndAccepted() {
    propose();
    assertThat(browser.text("section[aria-labelledby=proposal]"))
        .contains("2 sets, at most 2 possible", "proven", "2 of 2 can be accepted");
    assertThat(browser.text("section[aria-labelledby=left]"))
        .contains(shop.poolSerial(7), "Only 0 others of the pool agree with it");
    String home = setOf(shop.poolSerial(4)).getDomAttribute("data-set");
    String other = setOf(shop.poolSerial(1)).getDomAttribute("data-set");

    choose(shop.poolSerial(4));
    browser.choose("toSet", "Set " + other);
    browser.submit("#moves .bar button:not([name])");
    assertThat(setOf(shop.poolSerial(4)).getDomAttribute("data-set")).isEqualTo(other);
    assertThat(setOf(shop.poolSerial(4)).getText()).contains("does not agree", "14.51", "6");
    assertThat(setOf(shop.poolSerial(5)).getText()).contains("2 of 3 members");

    browser.submit("form[action$='/acceptance'] button[type=submit]");
    assertThat(browser.text(".alert.bad")).contains("Nothing was stored");

    choose(shop.poolSerial(4));
    browser.choose("toSet", "Set " + home);
    browser.submit("#moves .bar button:not([name])");
    assertThat(browser.text("section[aria-labelledby=proposal]"))
        .contains("2 of 2 can be accepted");
    assertThat(browser.text(".caution")).contains("can not be taken apart again");
    browser.submit("form[action$='/acceptance'] button[type=submit]");
    assertThat(browser.driver.findElements(By.id("moves"))).isEmpty();
    assertThat(browser.text("section[aria-labelledby=made]")).contains("Sets of the order, 3");
    assertThat(browser.text(".alert.note")).contains("at least two usable assemblies");

    browser.go("/workorders/" + shop.orderNumber());
    assertThat(browser.text("main table.wide")).contains("3 matched");
    browser.go("/board?search=" + shop.orderNumber());
    WebElement line = browser.find("tr[data-order='" + shop.orderNumber() + "']");
    assertThat(line.getText()).contains("6 matched", "2 awaiting reading", "Sets: 3, matched: 2");
    assertThat(browser.find("[data-glance=DUE_SOON]").isDisplayed()).isTrue();
    assertThat(browser.text("nav a[aria-current]")).isEqualTo("Board");
  }

  @Test
  void aDoubleClickAcceptsOnce() {
    propose();
    WebElement accept = browser.find("form[action$='/acceptance'] button[type=submit]");
    browser.driver.executeScript("arguments[0].scrollIntoView({block: 'center'})", accept);
    new Actions(browser.driver).doubleClick(accept).perform();
    browser.await("#work:not(:has(#moves))");

    assertThat(browser.driver.findElements(By.cssSelector(".alert.bad"))).isEmpty();
    browser.go("/workorders/" + shop.orderNumber());
    assertThat(browser.text("main table.wide")).contains("3 matched");
    browser.go("/board?search=" + shop.orderNumber());
    assertThat(browser.text("tr[data-order='" + shop.orderNumber() + "']"))
        .contains("Sets: 3, matched: 2");
  }

  /** Someone else has moved a member meanwhile: the second sees theirs, and is told. */
  @Test
  void aPageThatIsOldIsToldSo() {
    propose();
    String first = browser.driver.getWindowHandle();
    browser.driver.switchTo().newWindow(WindowType.TAB);
    browser.go("/building/" + shop.orderNumber());
    choose(shop.poolSerial(1));
    browser.choose("toSet", "left over");
    browser.submit("#moves .bar button:not([name])");
    browser.driver.close();
    browser.driver.switchTo().window(first);

    choose(shop.poolSerial(2));
    choose(shop.poolSerial(5));
    browser.submit("#moves .bar button[name=exchange]");
    assertThat(browser.text(".alert.bad")).contains("was changed by someone else");
    assertThat(browser.text("section[aria-labelledby=left]")).contains(shop.poolSerial(1));
  }

  @Test
  void whatIsTypedWrongStaysToBeMended() {
    browser.go("/building/" + shop.orderNumber());
    browser.type("setSize", "3");
    browser.type("positions", "a; 0\nb; x");
    browser.submit("form[action$='/proposals'] button[type=submit]");
    assertThat(browser.text(".field.bad .error")).contains("2 for a set of 3");
    browser.type("setSize", "");
    browser.submit("form[action$='/proposals'] button[type=submit]");
    assertThat(browser.text(".field.bad .error")).contains("\"x\" is no offset");
    assertThat(browser.find("textarea[name=positions]").getDomProperty("value"))
        .isEqualTo("a; 0\nb; x");
  }
}
