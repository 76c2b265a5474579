package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashMap;
import java.util.Map;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebDriverException;
import org.openqa.selenium.interactions.Actions;

/** A small gauge study in a real browser: planned by form, run by scanner and keyboard alone. */
class GaugeStudyBrowserTest {

  @Test
  void plannedRunAndAnalysed() {
    RunningService service = RunningService.empty();
    SmallShop shop = new SmallShop(service);
    shop.order(2, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("qa2");
      browser.go("/gauge-studies/new");
      browser.type("name", "Browser study");
      browser.choose("benchId", shop.orderNumber() + " bench");
      browser.type("frequencyGhz", "2.8");
      browser.type("toleranceWidthDeg", "6");
      browser.type("trials", "2");
      browser.find("#parts").sendKeys(shop.serial(1) + "\n" + shop.serial(2));
      browser.find("input[name=appraisers][value=technician]").click();
      browser.find("input[name=appraisers][value=qa]").click();
      browser.submit("main form button[type=submit]");
      assertThat(browser.text("main .alert")).contains("0 of 8 measurements taken");
      String study = browser.driver.getCurrentUrl().replaceFirst(".*/", "");

      // Parts differ by 10, trials by 0.2, appraisers by 0.5.
      run(browser, study, shop, "technician", 0);
      run(browser, study, shop, "qa", 0.5);

      browser.go("/gauge-studies/" + study);
      assertThat(browser.text("h1")).contains("complete");
      // EV = R̄/d2 with d2 = 2/√π, PV = Rp/d2* with d2* = √2: the range factors of two.
      assertThat(browser.text("main")).contains("0.17725", "7.07107");
      assertThat(browser.driver.findElements(By.cssSelector("svg.strip"))).hasSize(2);
    }
  }

  private static void run(
      Browser browser, String study, SmallShop shop, String person, double more) {
    browser.signIn(person);
    browser.go("/bench?benchId=" + shop.benchId);
    browser.await("main a[href$='/bench/gauge/" + study + "']").sendKeys(Keys.ENTER);
    Map<String, Integer> taken = new HashMap<>();
    for (int left = 4; left > 0; left--) {
      String action = says(browser, "Connect ");
      String serial = action.replace("Connect ", "");
      send(browser, serial + Keys.ENTER);
      says(browser, "Measure " + serial);
      double phase =
          (serial.equals(shop.serial(1)) ? 30 : 40) + 0.2 * taken.merge(serial, 1, Integer::sum);
      send(browser, "%.1f".formatted(phase + more) + Keys.ENTER);
    }
    says(browser, "Your part is done");
    assertThat(browser.text("main")).doesNotContain("30.").doesNotContain("40.");
  }

  /** Keys go to whatever has the focus. */
  private static void send(Browser browser, String keys) {
    new Actions(browser.driver).sendKeys(keys).perform();
  }

  private static String says(Browser browser, String beginning) {
    return browser
        .waiting()
        .ignoring(WebDriverException.class)
        .until(
            d -> {
              String action = browser.text("#action");
              return action.startsWith(beginning) ? action : null;
            });
  }
}
