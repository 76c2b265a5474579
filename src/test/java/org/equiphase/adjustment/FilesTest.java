package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Uploaded files: matched by name, confirmed, listed and kept where they can't be used. */
@ExtendWith(RunningService.Extension.class)
class FilesTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";

  private final RunningService service;
  private final SmallShop shop;

  FilesTest(RunningService service) {
    this.service = service;
    this.shop = new SmallShop(service);
  }

  @Test
  void theSerialIsTakenFromTheNameAndConfirmed() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    JsonNode file = upload(shop.serial(1) + "_run-2.s2p", sweep(1002)).get(0);
    assertThat(file.get("state").asString()).isEqualTo("READY");
    assertThat(file.get("serial").asString()).isEqualTo(shop.serial(1));
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("AWAITING_READING");

    HttpResponse<String> confirmed = confirm(file, shop.serial(1));
    assertThat(confirmed.statusCode()).as(confirmed.body()).isEqualTo(200);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
    assertThat(confirm(file, shop.serial(1)).statusCode()).isEqualTo(409);

    long reading = ApiClient.json(confirmed).get("readingId").asLong();
    JsonNode stored = ApiClient.json(shop.technician.get("/api/v1/readings/" + reading + "/sweep"));
    assertThat(stored.get("points")).hasSize(POINTS);

    JsonNode again = upload("copy of " + shop.serial(1) + ".s2p", sweep(1002)).get(0);
    assertThat(again.get("problem").asString()).contains("recorded before");
  }

  /** The sweep from before a cut, picked again at the bench, would ask for that cut again. */
  @Test
  void theSweepFromBeforeTheCutIsRefusedAtTheBench() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    assertThat(sendSweep(sweep(1004.25)).statusCode()).isEqualTo(201);
    JsonNode instruction = shop.member(set, shop.serial(1)).get("current");
    assertThat(shop.signOff(instruction, 4.2).statusCode()).isEqualTo(200);

    HttpResponse<String> refused = sendSweep(sweep(1004.25));

    assertThat(refused.statusCode()).isEqualTo(409);
    assertThat(ApiClient.json(refused).get("detail").asString()).contains("recorded before");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("ADJUSTED");
  }

  @Test
  void aFileThatNamesNoAssemblyIsKeptAndListed() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    JsonNode file = upload("unknown-name.s2p", sweep(1000.5)).get(0);
    assertThat(file.get("state").asString()).isEqualTo("UNMATCHED");
    assertThat(file.get("serial").isNull()).isTrue();
    assertThat(shop.technician.get("/api/v1/files").body()).contains("unknown-name.s2p");

    assertThat(confirm(file, "no-such-serial").statusCode()).isEqualTo(404);
    assertThat(confirm(file, shop.serial(1)).statusCode()).isEqualTo(200);
  }

  @Test
  void aFileThatDoesNotReadIsKeptWithTheReason() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    JsonNode file = upload(shop.serial(1) + ".s2p", "# GHZ S RI R 50\n1.0 0.1 0 0.9\n").get(0);
    assertThat(file.get("state").asString()).isEqualTo("UNMATCHED");
    assertThat(file.get("problem").asString()).contains("line 2");
    assertThat(confirm(file, shop.serial(1)).statusCode()).isEqualTo(400);
    HttpResponse<String> discarded =
        shop.technician.post(
            "/api/v1/files/" + file.get("id").asLong() + "/discard",
            "{\"version\": 0, \"reason\": \"torn off\"}");
    assertThat(discarded.statusCode()).isEqualTo(200);
    assertThat(shop.technician.get("/api/v1/files").body())
        .doesNotContain("\"id\":" + file.get("id").asLong() + ",");
    assertThat(
            ApiClient.json(shop.technician.get("/api/v1/files/" + file.get("id").asLong()))
                .get("problem")
                .asString())
        .isEqualTo("torn off");
  }

  @Test
  void aSweepThatMissesAFrequencyIsRefused() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    String low = sweep(1000).replace("2.", "1.");
    HttpResponse<String> refused = sendSweep(low);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("AWAITING_READING");
  }

  /** On the page a file that is refused does not hold up the others. */
  @Test
  void oneRefusedFileDoesNotHoldUpTheOthers() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    JsonNode good = upload(shop.serial(1) + ".s2p", sweep(1003)).get(0);
    JsonNode bad = upload(shop.serial(2) + ".s2p", sweep(1004)).get(0);
    PageClient pages = service.pages(Role.TECHNICIAN);
    HttpResponse<String> page =
        pages.post(
            "/files/confirm",
            java.util.Map.of(
                "id",
                java.util.List.of(good.get("id").asLong(), bad.get("id").asLong()),
                "version" + good.get("id").asLong(),
                0,
                "version" + bad.get("id").asLong(),
                0,
                "serial" + good.get("id").asLong(),
                shop.serial(1),
                "serial" + bad.get("id").asLong(),
                "no-such-serial",
                "benchId",
                shop.benchId,
                "temperatureC",
                "23,0"));
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body()).contains("no-such-serial");
    assertThat(shop.state(set, shop.serial(1))).isEqualTo("INSTRUCTED");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("AWAITING_READING");
  }

  private static final int POINTS = 41;

  /** A matched line of the shop's velocity factor, 2.7 to 2.9 GHz. */
  private static String sweep(double lengthMm) {
    StringBuilder text = new StringBuilder("# GHZ S DB R 50\n");
    for (int i = 0; i < POINTS; i++) {
      double ghz = 2.7 + 0.2 * i / (POINTS - 1);
      double phase = SmallShop.phaseDeg(lengthMm * ghz * 1e9 / SmallShop.FREQUENCY_HZ);
      text.append(
          String.format(Locale.ROOT, "%.6f -40 0 -1.2 %.6f -1.2 %.6f -40 0%n", ghz, phase, phase));
    }
    return text.toString();
  }

  private HttpResponse<String> sendSweep(String content) {
    return shop.technician.upload(
        "/api/v1/readings/sweeps",
        new Multipart()
            .file("file", "x.s2p", content.getBytes(StandardCharsets.US_ASCII))
            .field("serial", shop.serial(1))
            .field("benchId", "" + shop.benchId)
            .field("temperatureC", "23"));
  }

  private JsonNode upload(String name, String content) {
    HttpResponse<String> answer =
        shop.technician.upload(
            "/api/v1/files",
            new Multipart().file("file", name, content.getBytes(StandardCharsets.US_ASCII)));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  private HttpResponse<String> confirm(JsonNode file, String serial) {
    return shop.technician.post(
        "/api/v1/files/" + file.get("id").asLong() + "/confirm",
        "{\"version\": %d, \"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23}"
            .formatted(file.get("version").asInt(), serial, shop.benchId));
  }
}
