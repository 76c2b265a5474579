package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.ServerSocket;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.interactions.Actions;

/** A capture that fails says so at the bench, and is not taken for a lost connection. */
class CaptureBrowserTest {

  @Test
  void anInstrumentThatIsOffIsNamed() throws IOException {
    RunningService service = RunningService.empty();
    SmallShop shop = new SmallShop(service);
    shop.order(1, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    long bench = benchWithInstrumentAt(service, closedPort(), shop.orderNumber());
    try (Browser browser = Browser.open(service.url())) {
      browser.signIn("technician");
      browser.go("/bench?benchId=" + bench + "&serial=" + shop.serial(1));
      browser.find("details[data-key=F3] summary").click();
      browser.type("benchTemperatureC", "23" + Keys.ENTER);
      browser.waiting().until(d -> browser.text(".station .state").contains("23.0"));
      new Actions(browser.driver).sendKeys(Keys.F6).perform();
      browser.waiting().until(d -> !d.findElements(By.cssSelector("#said .alert")).isEmpty());
      assertThat(browser.text("#said")).contains("127.0.0.1");
      assertThat(browser.text("#alarm")).isEmpty();
      assertThat(browser.text("#queue")).doesNotContain("No connection to the service");
      assertThat(browser.text(".about > .serial")).isEqualTo(shop.serial(1));
    }
  }

  private static long benchWithInstrumentAt(RunningService service, int port, String prefix) {
    ApiClient planner = service.api(Role.PLANNER);
    var instrument =
        planner.post(
            "/api/v1/catalog/instruments",
            """
            {"name": "%s switched-off analyzer (invented)", "serialNumber": "2",
             "phaseStandardUncertaintyDeg": 0.2, "calibrationDue": "2030-01-01", "note": "",
             "connection": {"host": "127.0.0.1", "port": %d}}
            """
                .formatted(prefix, port));
    assertThat(instrument.statusCode()).as(instrument.body()).isEqualTo(201);
    var bench =
        planner.post(
            "/api/v1/catalog/benches",
            """
            {"name": "%s capture bench", "instrumentId": %d, "endStandardId": null,
             "adapterIds": [], "driftLimitDeg": 1, "referenceIntervalMin": 240,
             "calibrationDue": "2030-01-01", "note": ""}
            """
                .formatted(prefix, ApiClient.json(instrument).get("id").asLong()));
    assertThat(bench.statusCode()).as(bench.body()).isEqualTo(201);
    return ApiClient.json(bench).get("id").asLong();
  }

  private static int closedPort() throws IOException {
    try (ServerSocket socket = new ServerSocket(0)) {
      return socket.getLocalPort();
    }
  }
}
