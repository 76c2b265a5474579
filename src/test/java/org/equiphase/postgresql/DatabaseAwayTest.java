package org.equiphase.postgresql;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.TestDatabase;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;

/** The network between the service and its database fails, and comes back. */
class DatabaseAwayTest {

  private static final String READINGS = "/api/v1/readings";

  @Test
  void writesAreRefusedAndTakenOnceAfterwards() throws Exception {
    String database = TestDatabase.postgres();
    Matcher address = Pattern.compile("//localhost:(\\d+)/").matcher(database);
    assertThat(address.find()).isTrue();
    try (Relay relay = new Relay(Integer.parseInt(address.group(1)));
        RunningService service =
            RunningService.startOn(
                address.replaceFirst("//localhost:" + relay.port() + "/"),
                "equiphase.demo-accounts=true",
                "spring.datasource.hikari.connection-timeout=1000")) {
      SmallShop shop = new SmallShop(service);
      shop.order(1, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
      ApiClient bench =
          service.api(service.bean(ApiTokens.class).add("technician", "away", null).secret());
      PageClient pages = service.pages(Role.TECHNICIAN);
      assertThat(pages.get("/bench").statusCode()).isEqualTo(200);
      String reading = shop.reading(shop.serial(1), 1003);
      String key = UUID.randomUUID().toString();

      relay.cut();
      HttpResponse<String> refused = bench.write("POST", READINGS, reading, key);
      assertThat(refused.statusCode()).as(refused.body()).isEqualTo(503);
      assertThat(refused.headers().firstValue("Retry-After")).isPresent();
      assertThat(ApiClient.json(refused).get("title").asString()).isNotBlank();
      HttpResponse<String> page = pages.get("/bench");
      assertThat(page.statusCode()).isEqualTo(503);
      assertThat(page.body()).contains("<h1").doesNotContain("Exception", "SQL");
      assertThat(pages.reading("de").get("/board").body()).contains("Datenbank");
      assertThat(bench.get("/actuator/health").statusCode()).isEqualTo(503);

      relay.mend();
      HttpResponse<String> taken =
          PatientSender.send(List.of(bench), reading, key, new AtomicInteger());
      assertThat(taken.statusCode()).as(taken.body()).isEqualTo(201);
      assertThat(bench.write("POST", READINGS, reading, key).body()).isEqualTo(taken.body());
      assertThat(ApiClient.json(bench.get(READINGS + "?serial=" + shop.serial(1)))).hasSize(1);
      assertThat(pages.get("/bench").statusCode()).isEqualTo(200);
    }
  }
}
