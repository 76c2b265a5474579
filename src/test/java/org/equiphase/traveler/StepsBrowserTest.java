package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import org.equiphase.Browser;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.openqa.selenium.Keys;
import org.openqa.selenium.chromium.ChromiumNetworkConditions;

/** Steps signed off in Chromium by scanner alone, which types a code and Enter. */
@ExtendWith(RunningService.Extension.class)
class StepsBrowserTest {

  private final RunningService service;

  StepsBrowserTest(RunningService service) {
    this.service = service;
  }

  @Test
  void scanAfterScanAlsoAcrossALostConnection() {
    TravelerShop shop = TravelerShop.trimming(service);
    String sheet = shop.serial(4) + "/A/";
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn(RunningService.username(Role.TECHNICIAN));
      browser.go("/traveler/steps");
      scan(browser, sheet + 1);
      awaitText(browser, "1 Cut signed off by technician");
      scan(browser, sheet + 1);
      awaitText(browser, "1 Cut is done already");

      ChromiumNetworkConditions away = new ChromiumNetworkConditions();
      away.setOffline(true);
      browser.driver.setNetworkConditions(away);
      scan(browser, sheet + 2);
      awaitText(browser, "The service can't be reached. Nothing was stored");
      assertThat(browser.find("#code").getAttribute("value")).isEqualTo(sheet + 2);
      browser.driver.deleteNetworkConditions();

      scan(browser, sheet + 2);
      awaitText(browser, "2 Strip signed off by technician");
      assertThat(browser.text("body")).doesNotContain("can't be reached");
    }
  }

  /** Into whatever has the focus. */
  private static void scan(Browser browser, String code) {
    browser.driver.switchTo().activeElement().sendKeys(code + Keys.ENTER);
  }

  private static void awaitText(Browser browser, String text) {
    browser.waiting().until(d -> browser.text("body").contains(text));
  }
}
