package org.equiphase.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** The bench page without scripts: plain forms, as it must work too. */
@ExtendWith(RunningService.Extension.class)
class BenchPageTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";

  private final RunningService service;
  private final SmallShop shop;
  private final PageClient technician;
  private final PageClient other;

  BenchPageTest(RunningService service) {
    this.service = service;
    shop = new SmallShop(service);
    technician = service.pages(Role.TECHNICIAN);
    other = service.pages(Role.QA);
  }

  @Test
  void theSecondAtAnAssemblyIsToldWhoHasIt() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?benchId=" + shop.benchId + "&serial=" + shop.serial(1));
    assertThat(other.get("/bench?serial=" + shop.serial(1)).body())
        .contains("technician has had this assembly");
    assertThat(technician.get("/bench?serial=" + shop.serial(1)).body())
        .doesNotContain("has had this assembly");
    assertThat(other.get("/bench?serial=" + shop.serial(2)).body())
        .doesNotContain("has had this assembly");
  }

  @Test
  void aReadingOnWhatSomeoneElseHasMeasuredIsRefusedWithNameAndTime() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?serial=" + shop.serial(1));
    shop.measure(shop.serial(1), 1003);

    HttpResponse<String> refused = technician.post("/bench/readings", reading(1, 1002, 0));

    assertThat(refused.statusCode()).isEqualTo(409);
    assertThat(refused.body())
        .contains("technician logged a reading of " + shop.serial(1) + " at 20")
        .contains("value=\"" + typed(1002) + "\"");
    assertThat(readings(1).size()).isEqualTo(1);
    long seen = readings(1).get(0).get("id").asLong();
    assertThat(technician.post("/bench/readings", reading(1, 1002, seen)).statusCode())
        .isEqualTo(302);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
  }

  @Test
  void aSecondSignOffIsToldOfTheFirst() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1003);
    JsonNode cut = shop.member(set, shop.serial(1)).get("current");
    Map<String, Object> signOff =
        Map.of(
            "version", cut.get("version").asInt(), "serial", shop.serial(1), "doneTrimMm", "2,9");
    String path = "/bench/instructions/" + cut.get("id").asLong();
    technician.get("/bench?serial=" + shop.serial(1));
    other.get("/bench?serial=" + shop.serial(1));

    assertThat(technician.post(path, signOff).statusCode()).isEqualTo(302);
    HttpResponse<String> second = other.post(path, signOff);

    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(second.body()).contains("technician signed off this cut").contains("2.9 mm");
    assertThat(shop.member(set, shop.serial(1)).get("assembly").get("trimmedMm").asDouble())
        .isEqualTo(2.9);
  }

  @Test
  void inchesAreReadAsInchesAndShownFirst() {
    PageClient qa = service.pages(Role.QA);
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1003);
    String serial = shop.serial(1);
    qa.get("/bench?serial=" + serial);
    qa.post(
        "/account/preferences", Map.of("lengthUnit", "INCH", "back", "/bench?serial=" + serial));
    JsonNode cut = shop.member(set, serial).get("current");
    double trimMm = cut.get("trimMm").asDouble();
    String page = qa.get("/bench?serial=" + serial).body();
    assertThat(page)
        .contains(String.format(Locale.ROOT, "Cut %.3f in", trimMm / 25.4))
        .contains("name=\"doneTrimInch\"");

    qa.post(
        "/bench/instructions/" + cut.get("id").asLong(),
        Map.of("version", cut.get("version").asInt(), "serial", serial, "doneTrimInch", "0.125"));
    qa.post("/account/preferences", Map.of("lengthUnit", "MM"));

    // 25.4 mm is one inch, exactly.
    assertThat(shop.member(set, serial).get("assembly").get("trimmedMm").asDouble())
        .isCloseTo(3.175, within(1e-9));
  }

  @Test
  void theBenchTemperatureServesReadingsForAnHour() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?serial=" + shop.serial(1));
    Map<String, Object> without = new HashMap<>(reading(1, 1003, 0));
    without.remove("temperatureC");
    HttpResponse<String> refused = technician.post("/bench/readings", without);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("Temperature: is missing");

    technician.post(
        "/bench/temperature", Map.of("benchId", shop.benchId, "benchTemperatureC", "21,5"));
    assertThat(technician.post("/bench/readings", without).statusCode()).isEqualTo(302);
    assertThat(readings(1).get(0).get("temperatureC").asDouble()).isEqualTo(21.5);
  }

  @Test
  void pausedWorkIsTakenOverOnce() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?benchId=" + shop.benchId + "&serial=" + shop.serial(1));
    technician.post(
        "/bench/pauses",
        Map.of(
            "benchId", shop.benchId, "serial", shop.serial(1), "note", "end B is still to be cut"));
    String page = other.get("/bench?benchId=" + shop.benchId).body();
    assertThat(page).contains("end B is still to be cut").contains("Paused by technician");
    String path = page.replaceAll("(?s).*action=\"(/bench/pauses/\\d+/resume)\".*", "$1");

    HttpResponse<String> taken = other.post(path, Map.of());
    assertThat(other.location(taken)).isEqualTo("/bench?serial=" + shop.serial(1));
    HttpResponse<String> second = technician.post(path, Map.of());
    assertThat(second.statusCode()).isEqualTo(409);
    assertThat(second.body()).contains("qa resumed this already");
    assertThat(other.get("/bench?benchId=" + shop.benchId).body())
        .doesNotContain("end B is still to be cut");
  }

  @Test
  void whatWasTakenEarlierIsStoredWithItsTime() {
    SmallShop checked = shop.another();
    Instant now = Instant.now().truncatedTo(ChronoUnit.MICROS);
    checked.checkReference(30, now.minusSeconds(3600));
    checked.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?serial=" + checked.serial(1));
    Map<String, Object> late = new HashMap<>(reading(1, 1003, 0));
    late.put("serial", checked.serial(1));
    late.put("benchId", checked.benchId);
    late.put("takenAt", now.minusSeconds(600).toString());

    assertThat(technician.post("/bench/readings", late).statusCode()).isEqualTo(302);

    JsonNode stored =
        ApiClient.json(shop.technician.get("/api/v1/readings?serial=" + checked.serial(1)));
    assertThat(Instant.parse(stored.get(0).get("takenAt").asString()))
        .isEqualTo(now.minusSeconds(600));
  }

  /** A lost answer: what was stored is not stored again with other words around it. */
  @Test
  void aKeyThatWasUsedIsSaidToBeUsed() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench?serial=" + shop.serial(1));
    Map<String, Object> first = new HashMap<>(reading(1, 1003, 0));
    first.put("idempotencyKey", "lost-" + shop.serial(1));
    assertThat(technician.post("/bench/readings", first).statusCode()).isEqualTo(302);

    first.put("takenAt", Instant.now().toString());
    HttpResponse<String> again = technician.post("/bench/readings", first);

    assertThat(again.statusCode()).isEqualTo(422);
    assertThat(again.headers().firstValue("Idempotency-Key-Used")).contains("true");
    assertThat(readings(1).size()).isEqualTo(1);
  }

  @Test
  void aDroppedFileFindsItsAssemblyOrWaits() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    technician.get("/bench");
    String csv =
        String.format(
            Locale.ROOT, "temperature_c,frequency_ghz,phase_deg%n23,2.8,%s%n", typed(1003));
    HttpResponse<String> recorded = drop(shop.serial(1) + ".csv", csv);
    assertThat(technician.location(recorded)).isEqualTo("/bench?serial=" + shop.serial(1));
    assertThat(readings(1).size()).isEqualTo(1);

    HttpResponse<String> waits = drop("nobody-" + shop.serial(1) + "x.csv", csv + "\n");
    assertThat(technician.location(waits)).contains("waits=nobody-");
    assertThat(technician.get(technician.location(waits)).body()).contains("waits for a person");

    assertThat(drop(shop.serial(1) + "-b.csv", "rubbish").statusCode()).isEqualTo(422);
    assertThat(readings(1).size()).isEqualTo(1);
  }

  private HttpResponse<String> drop(String name, String content) {
    return technician.upload(
        "/bench/files",
        new Multipart()
            .field("benchId", "" + shop.benchId)
            .file("file", name, content.getBytes(java.nio.charset.StandardCharsets.UTF_8)));
  }

  private Map<String, Object> reading(int member, double lengthMm, long seenReadingId) {
    return Map.of(
        "serial",
        shop.serial(member),
        "benchId",
        shop.benchId,
        "seenReadingId",
        seenReadingId,
        "temperatureC",
        "23",
        "phaseDeg",
        typed(lengthMm));
  }

  private static String typed(double lengthMm) {
    return String.format(Locale.ROOT, "%.4f", SmallShop.phaseDeg(lengthMm));
  }

  private JsonNode readings(int member) {
    return ApiClient.json(shop.technician.get("/api/v1/readings?serial=" + shop.serial(member)));
  }
}
