package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.assertj.core.data.Offset;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import org.equiphase.measurement.BenchTemperatures;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;

/** A station against the running service: what becomes of each kind of file. */
@ExtendWith(RunningService.Extension.class)
class BenchFilesTest {

  private final Instant now = Instant.now().truncatedTo(ChronoUnit.SECONDS);
  private final RunningService service;
  private final ApiClient technician;
  private final StationShop shop;
  private Path folder;
  private Path token;

  BenchFilesTest(RunningService service) {
    this.service = service;
    this.technician = service.api(Role.TECHNICIAN);
    this.shop = new StationShop(service.api(Role.PLANNER), 3);
  }

  @BeforeEach
  void folders(@TempDir Path work) throws Exception {
    folder = Files.createDirectory(work.resolve("bench"));
    token = Files.writeString(work.resolve("token"), newToken().secret());
  }

  /** φ = −360·f·L/(v·c), by the definition of insertion phase; the files carry four decimals. */
  @Test
  void touchstoneAndCsvBecomeReadings() throws Exception {
    Path sweep = write(shop.serial(1) + "_Prüfung 1.s2p", StationShop.touchstone(1001.5));
    Files.setLastModifiedTime(sweep, FileTime.from(now.minusSeconds(600)));
    write(shop.serial(2) + ".csv", StationShop.csv(998.25));
    sendAll(22.5);

    JsonNode first = onlyReading(1);
    assertThat(first.get("source").asString()).isEqualTo("FILE");
    assertThat(first.get("temperatureC").asDouble()).isEqualTo(22.5);
    assertThat(Instant.parse(first.get("takenAt").asString())).isEqualTo(now.minusSeconds(600));
    assertPhase(first, 1001.5);
    JsonNode second = onlyReading(2);
    assertThat(second.get("source").asString()).isEqualTo("FILE");
    assertPhase(second, 998.25);
    assertThat(RunningStation.names(folder.resolve("sent")))
        .containsExactly(shop.serial(1) + "_Prüfung 1.s2p", shop.serial(2) + ".csv");
  }

  @Test
  void whatTheFileStatesGoesBeforeNameAndOption() throws Exception {
    write(
        "bench export 17.csv",
        "serial;temperature_c;frequency_ghz;phase_deg\n" + shop.serial(3) + ";21,5;2,8;12,5\n");
    sendAll(25.0);
    JsonNode reading = onlyReading(3);
    assertThat(reading.get("temperatureC").asDouble()).isEqualTo(21.5);
    assertThat(reading.get("spots").get(0).get("measuredPhaseDeg").asDouble()).isEqualTo(12.5);
  }

  @Test
  void anUnknownSerialWaitsOnTheFilesPage() throws Exception {
    String name = "unknown " + UUID.randomUUID() + ".s2p";
    Path file = write(name, StationShop.touchstone(1002.25));
    Files.setLastModifiedTime(file, FileTime.from(now.minusSeconds(60)));
    List<String> said = sendAll(23.0);
    assertThat(said).anyMatch(line -> line.startsWith(name + ": waits on the Files page"));
    assertThat(RunningStation.names(folder.resolve("sent"))).containsExactly(name);
    JsonNode waiting = waiting(name);
    HttpResponse<String> confirmed =
        technician.post(
            "/api/v1/files/" + waiting.get("id").asLong() + "/confirm",
            "{\"version\": 0, \"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23}"
                .formatted(shop.serial(1), shop.benchId));
    assertThat(confirmed.statusCode()).as(confirmed.body()).isEqualTo(200);
    assertThat(Instant.parse(onlyReading(1).get("takenAt").asString()))
        .isEqualTo(now.minusSeconds(60));
  }

  @Test
  void badFilesAreMovedAsideWithTheReason() throws Exception {
    write(shop.serial(1) + ".s2p", "# GHZ S RI R 50\n1.0 0.1 0 0.9\n");
    write(shop.serial(2) + ".csv", "frequency_ghz,phase_deg,vswr\n2.8,12,1.1\n2.9,12,0.5\n");
    write(shop.serial(3) + ".csv", "frequency_ghz,phase\n2.8,12\n");
    sendAll(23.0);
    assertThat(reason(shop.serial(1) + ".s2p")).contains("line 2");
    assertThat(reason(shop.serial(2) + ".csv"))
        .contains("line 3, column vswr: is 0.5")
        .contains("line 3, column frequency_ghz: is 2.9E9, which the order does not ask for");
    assertThat(reason(shop.serial(3) + ".csv")).contains("line 1 has the heading \"phase\"");
    for (int i = 1; i <= 3; i++) {
      assertThat(history(i)).isEmpty();
    }
  }

  /** Without its journal the station knows nothing, but the service does. */
  @Test
  void theSameFileAgainMakesNoSecondReading() throws Exception {
    String name = shop.serial(1) + ".s2p";
    write(name, StationShop.touchstone(1003));
    sendAll(23.0);
    Files.delete(folder.resolve(Journal.FILE_NAME));
    Path again = write(name, StationShop.touchstone(1003));
    Files.setLastModifiedTime(again, FileTime.from(now.minusSeconds(5)));
    List<String> said = sendAll(23.0);
    assertThat(said).anyMatch(line -> line.startsWith(name + ": recorded before as reading "));
    onlyReading(1);
    assertThat(RunningStation.names(folder.resolve("sent")))
        .containsExactly(shop.serial(1) + " (2).s2p", name);

    write(shop.serial(2) + ".s2p", StationShop.touchstone(1003));
    sendAll(23.0);
    assertThat(reason(shop.serial(2) + ".s2p"))
        .contains("recorded before")
        .contains("measure " + shop.serial(2) + " again");
  }

  /** It would count as the newest, and a sweep from before a cut would ask for that cut again. */
  @Test
  void aFileFromBeforeTheLastReadingWaitsForAPerson() throws Exception {
    write(shop.serial(1) + "_2.s2p", StationShop.touchstone(1001));
    sendAll(23.0);
    String late = shop.serial(1) + "_1.s2p";
    Path file = write(late, StationShop.touchstone(1004));
    Files.setLastModifiedTime(file, FileTime.from(now.minusSeconds(7200)));
    sendAll(23.0);
    assertPhase(onlyReading(1), 1001);
    assertThat(waiting(late).get("problem").asString()).contains("before reading");
  }

  @Test
  void withoutATemperatureItWaitsUntilOneIsNoted() throws Exception {
    write(shop.serial(1) + ".s2p", StationShop.touchstone(1000));
    try (RunningStation station = station(null, false)) {
      station.awaitSaid("none was noted at this bench");
      assertThat(RunningStation.names(folder)).hasSize(1);
      service.bean(BenchTemperatures.class).note(shop.benchId, 22.25);
      station.awaitSaid("recorded as reading");
    }
    assertThat(onlyReading(1).get("temperatureC").asDouble()).isEqualTo(22.25);

    Path old = write(shop.serial(2) + ".s2p", StationShop.touchstone(1000.5));
    Files.setLastModifiedTime(old, FileTime.from(now.minus(Duration.ofDays(1))));
    sendAll(null);
    assertThat(waiting(shop.serial(2) + ".s2p").get("problem").asString()).contains("temperature");
  }

  @Test
  void aRevokedTokenMovesNothing() throws Exception {
    ApiTokens.NewToken revoked = newToken();
    Files.writeString(token, revoked.secret());
    service.bean(ApiTokens.class).revoke("technician", revoked.token().id());
    write(shop.serial(1) + ".s2p", StationShop.touchstone(1000.25));
    try (RunningStation station = station(23.0, true)) {
      station.awaitSaid("does not take the token");
      assertThat(RunningStation.names(folder)).hasSize(1);
      Files.writeString(token, newToken().secret());
      assertThat(station.join()).isTrue();
    }
    onlyReading(1);
  }

  @Test
  void plannersMayNotSend() {
    assertThat(post(service.api(Role.PLANNER), "x.s2p", "x", "k").statusCode()).isEqualTo(403);
  }

  /** Two senders, each with its own key, at the same moment. */
  @Test
  void theSameContentAtOnceMakesOneReading() throws Exception {
    String content = StationShop.touchstone(1005.5);
    ExecutorService threads = Executors.newFixedThreadPool(4);
    try {
      List<Callable<HttpResponse<String>>> posts =
          Collections.nCopies(
              4,
              () ->
                  post(technician, shop.serial(1) + ".s2p", content, UUID.randomUUID().toString()));
      for (Future<HttpResponse<String>> answer : threads.invokeAll(posts)) {
        assertThat(answer.get().statusCode()).as(answer.get().body()).isIn(200, 201);
      }
    } finally {
      threads.shutdown();
    }
    onlyReading(1);
  }

  private HttpResponse<String> post(ApiClient client, String name, String content, String key) {
    return client.upload(
        "/api/v1/files/recorded",
        new Multipart()
            .file("file", name, content.getBytes(StandardCharsets.UTF_8))
            .field("benchId", "" + shop.benchId)
            .field("temperatureC", "23"),
        key);
  }

  private ApiTokens.NewToken newToken() {
    return service.bean(ApiTokens.class).add("technician", "station", null);
  }

  private Path write(String name, String text) throws Exception {
    return Files.writeString(folder.resolve(name), text);
  }

  private List<String> sendAll(@Nullable Double temperatureC) throws Exception {
    try (RunningStation station = station(temperatureC, true)) {
      assertThat(station.join()).as(station.said.toString()).isTrue();
      assertThat(RunningStation.names(folder)).isEmpty();
      return station.said;
    }
  }

  private RunningStation station(@Nullable Double temperatureC, boolean once) throws Exception {
    return new RunningStation(service.url(), token, shop.bench, folder, temperatureC, once);
  }

  private String reason(String name) throws Exception {
    return Files.readString(folder.resolve("refused").resolve(name + ".reason.txt"));
  }

  private JsonNode waiting(String name) {
    for (JsonNode file : ApiClient.json(technician.get("/api/v1/files"))) {
      if (file.get("name").asString().equals(name)) {
        return file;
      }
    }
    throw new AssertionError(name + " does not wait");
  }

  private JsonNode history(int i) {
    return ApiClient.json(technician.get("/api/v1/readings?serial=" + shop.serial(i)));
  }

  private JsonNode onlyReading(int i) {
    JsonNode readings = history(i);
    assertThat(readings).hasSize(1);
    return readings.get(0);
  }

  private static void assertPhase(JsonNode reading, double lengthMm) {
    double expected = StationShop.totalPhaseDeg(lengthMm, StationShop.FREQUENCY_HZ);
    double actual = reading.get("spots").get(0).get("phaseDeg").asDouble();
    assertThat(Math.IEEEremainder(actual - expected, 360)).isEqualTo(0, Offset.offset(1e-3));
  }
}
