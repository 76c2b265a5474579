package org.equiphase.workbook;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.equiphase.Browser;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.traveler.TravelerShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.WebElement;

/** A planner brings a filled-in workbook back in a real browser. */
@ExtendWith(RunningService.Extension.class)
class WorkbookBrowserTest {

  private static final String STORE = "main form button[type=submit]";

  private final RunningService service;
  private final TravelerShop shop;
  private final String serial;
  private final byte[] exported;

  WorkbookBrowserTest(RunningService service) {
    this.service = service;
    shop = TravelerShop.trimming(service);
    serial = shop.serial(2);
    exported = service.api(Role.PLANNER).download("/api/v1" + path() + ".xlsx").body();
  }

  private String path() {
    return "/workorders/" + shop.orderPath() + "/workbook";
  }

  private void upload(Browser browser, Path folder, double cutMm) throws IOException {
    Path file = Files.createTempFile(folder, "back", ".xlsx");
    Files.write(
        file,
        FilledBook.changed(
            exported,
            book ->
                book.fill(serial, "Really cut, mm", cutMm).fill(serial, "Initials", "A. Example")));
    browser.go(path());
    browser.find("#file").sendKeys(file.toString());
    browser.submit(STORE);
  }

  private static List<String> cells(Browser browser) {
    return browser.driver.findElements(By.cssSelector("main tbody td")).stream()
        .map(WebElement::getText)
        .toList();
  }

  private static boolean canStore(Browser browser) {
    return !browser.driver.findElements(By.cssSelector(STORE)).isEmpty();
  }

  @Test
  void aWorkbookIsLookedAtAndStoredOnceAndAnotherIsInConflict(@TempDir Path folder)
      throws IOException {
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("planner");
      upload(browser, folder, 3.15);
      assertThat(browser.text("main .alert.warn")).contains("can't be taken back");
      assertThat(cells(browser)).contains(serial, "to store", "Really cut, mm", "3.15");
      browser.submit(STORE);
      assertThat(browser.text("main [role=status]")).isEqualTo("Rows stored: 1.");
      assertThat(canStore(browser)).isFalse();

      upload(browser, folder, 3.15);
      assertThat(browser.text("main")).contains("stored before", "There is nothing to store.");
      assertThat(canStore(browser)).isFalse();

      upload(browser, folder, 2.9);
      assertThat(browser.text("main tbody")).contains("conflict", "planner signed off something");
      assertThat(cells(browser).get(4)).startsWith("3.15 by planner");
      assertThat(cells(browser).get(5)).isEqualTo("2.9");
      assertThat(canStore(browser)).isFalse();
    }
  }

  @Test
  void aRowWhoseAssemblyWasMeasuredSinceIsStale(@TempDir Path folder) throws IOException {
    shop.measure(serial, 1002.5);
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("planner");
      upload(browser, folder, 3.15);
      assertThat(browser.text("main tbody")).contains("stale", "measured anew");
      assertThat(canStore(browser)).isFalse();
    }
  }
}
