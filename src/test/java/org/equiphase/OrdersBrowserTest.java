package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;

/** A planner in a real browser: orders from a file, and an order revised while it is worked on. */
class OrdersBrowserTest {

  private static final String HEAD =
      "order,title,template,cable_type,connector,nominal_length_mm,nominal_length_tolerance_mm,"
          + "trim_allowance_mm,cut_uncertainty_mm,frequency_mhz,tolerance_deg,set,position,serial\n";

  @Test
  void aFileIsMendedLookedAtAndStored(@TempDir Path folder) throws IOException {
    RunningService service = RunningService.empty();
    SmallShop shop = new SmallShop(service);
    String cable = shop.orderNumber() + " cable (invented)";
    Path file = folder.resolve("orders.csv");
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("planner");
      browser.go("/workorders");
      browser.submit("a[href$='/workorders/imports']");

      upload(browser, file, row("BR-1", cable, "ten", "BR1-{01..04}"));
      assertThat(browser.text("main [role=alert]")).contains("cells to be mended: 1");
      assertThat(browser.text("main table tbody")).contains("2 trim_allowance_mm", "\"ten\"");
      assertThat(browser.text("main")).doesNotContain("Create the order");

      browser.submit("main a[href$='/workorders/imports']");
      upload(
          browser,
          file,
          row("BR-1", cable, "10", "BR1-{01..04}") + row("BR-2", cable, "10", "BR2-{01..04}"));
      assertThat(browser.text("main")).contains("Nothing is stored yet", "BR1-04", "BR2-04");
      assertThat(service.api(Role.PLANNER).get("/api/v1/workorders/BR-1").statusCode())
          .isEqualTo(404);

      browser.submit("main form button[type=submit]");
      assertThat(browser.text("main table")).contains("BR-1", "BR-2");

      browser.go("/workorders/imports");
      upload(browser, file, row("BR-1", cable, "10", "BR1-{01..04}"));
      assertThat(browser.text("main table tbody")).contains("BR-1 exists already");
    }
  }

  @Test
  void anOrderIsRevised() {
    RunningService service = RunningService.empty();
    SmallShop shop = new SmallShop(service);
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1004);
    JsonNode cut = shop.member(set, shop.serial(1)).get("current");
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("planner");
      browser.go("/workorders/" + shop.orderNumber());
      assertThat(browser.text("h1")).contains("rev A");
      browser.submit("main a[href$='/revise']");
      assertThat(browser.text("main .alert.warn")).contains("sheets of revision A");

      browser.type("nominalLengthMm", "900");
      browser.type("reason", "shorter");
      browser.submit("main form.grid button[type=submit]");
      assertThat(browser.text("main [role=alert]")).contains("Nominal length was 1000");
      assertThat(browser.text("#nominalLengthMm-error")).contains("was 1000");

      browser.type("nominalLengthMm", "1000");
      browser.type("frequencies", "2800; 2; 2");
      browser.type("reason", "tighter, the customer asks");
      browser.submit("main form.grid button[type=submit]");
      assertThat(browser.text("h1")).contains("rev B");
      assertThat(browser.text("main")).contains("tighter, the customer asks", "2800 MHz ±3°");
    }
    assertThat(shop.signOff(cut, 3.9).statusCode()).isEqualTo(409);
  }

  private static String row(String order, String cable, String allowance, String serials) {
    return "%s,Invented,WIDE_BAND,%s,SMA,1000,10,%s,0.1,2800,3,A,CH{1..4},%s\n"
        .formatted(order, cable, allowance, serials);
  }

  private static void upload(Browser browser, Path file, String rows) throws IOException {
    Files.writeString(file, HEAD + rows);
    browser.find("#file").sendKeys(file.toString());
    browser.submit("main form button[type=submit]");
  }
}
