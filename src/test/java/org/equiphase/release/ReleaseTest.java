package org.equiphase.release;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.audit.BrokenSeal;
import org.equiphase.audit.ChainChecker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;

/** What hinders a release, what it locks, and what is found when it is tampered with. */
@ExtendWith(RunningService.Extension.class)
class ReleaseTest {

  private final RunningService service;
  private final JdbcClient jdbc;

  ReleaseTest(RunningService service) {
    this.service = service;
    this.jdbc = service.bean(JdbcClient.class);
  }

  @Test
  void releasedSetIsLockedAndItsDataHaveTheHashOnRecord() throws NoSuchAlgorithmException {
    ReleaseShop shop = ReleaseShop.matched(service);
    assertThat(shop.hindrances()).isEmpty();

    JsonNode release = shop.release();

    byte[] data =
        shop.qa
            .download("/api/v1/release/" + release.get("id").asLong() + "/certificate.json")
            .body();
    String sha256 = HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(data));
    assertThat(release.get("sha256").asString()).isEqualTo(sha256);
    assertThat(new String(data, StandardCharsets.UTF_8))
        .contains("\"number\":\"" + release.get("number").asString() + "\"")
        .contains("\"username\":\"" + ReleaseShop.username() + "\"")
        .doesNotContain(": ");
    assertThat(shop.shop.state(shop.setId, shop.shop.serial(1))).isEqualTo("RELEASED");
    assertThat(shop.hindrances()).contains("ALREADY_RELEASED");
    assertThat(shop.check(release.get("id").asLong()).get("intact").asBoolean()).isTrue();
    assertThat(brokenReleases()).doesNotContain(release.get("id").asLong());
  }

  @Test
  void unreadMembersHinder() {
    ReleaseShop shop = ReleaseShop.unread(service);
    assertThat(shop.hindrances()).containsOnly("NOT_IN_TOLERANCE").hasSize(4);
    refused(shop, "4 hindrances");
  }

  @Test
  void aMemberOutOfToleranceHinders() {
    ReleaseShop shop = ReleaseShop.matched(service);
    shop.shop.measure(shop.shop.serial(2), 980);
    assertThat(shop.hindrances()).contains("NOT_IN_TOLERANCE");
    refused(shop, "is not in tolerance: Too long");
  }

  @Test
  void anOverdueReferenceCheckHinders() {
    ReleaseShop shop = ReleaseShop.unread(service);
    SmallShop late = shop.shop.another();
    long setId = late.order(2, "SET", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    Instant checked = Instant.now().minus(Duration.ofHours(6));
    late.checkReference(30, checked);
    for (int i = 1; i <= 2; i++) {
      assertThat(
              late.tryMeasure(late.serial(i), 1000, 1.2, checked.plus(Duration.ofHours(1)))
                  .statusCode())
          .isEqualTo(201);
    }

    JsonNode standing = ApiClient.json(late.qa.get("/api/v1/release/sets/" + setId));

    assertThat(standing.get("hindrances").valueStream().map(h -> h.get("kind").asString()))
        .containsOnly("DRIFT")
        .hasSize(2);
    late.checkReference(30.1, null);
    standing = ApiClient.json(late.qa.get("/api/v1/release/sets/" + setId));
    assertThat(standing.get("hindrances").size()).isZero();
  }

  /** What counts is the due date at the reading, not that of today. */
  @Test
  void anOverdueCalibrationHindersUntilMeasuredAgain() {
    ReleaseShop shop = ReleaseShop.unread(service);
    shop.calibrationDue("2020-01-01");
    shop.measureAll();
    shop.calibrationDue("2030-01-01");

    assertThat(shop.hindrances()).containsOnly("CALIBRATION").hasSize(4);
    refused(shop, "calibration was overdue");

    shop.measureAll();
    shop.calibrationDue("2020-01-01");
    assertThat(shop.hindrances()).isEmpty();
    JsonNode equipment = shop.standing().get("certified").get("equipment").get(0);
    assertThat(equipment.get("instrumentCalibrationDue").asString()).isEqualTo("2030-01-01");
  }

  @Test
  void aPendingDecisionHindersAndAConcessionStandsOnTheCertificate() {
    ReleaseShop shop = ReleaseShop.matched(service);
    String serial = shop.shop.serial(2);
    shop.shop.measure(serial, 999);
    long decision = shop.review.decided(serial, "CONCESSION", "").get("id").asLong();

    assertThat(shop.hindrances()).contains("DISPOSITION_PENDING");
    assertThat(shop.standing().get("hindrances").valueStream().map(h -> h.get("link").asString()))
        .contains("/review/dispositions/" + decision);
    refused(shop, "second signature");

    assertThat(shop.review.countersign(shop.review.second, decision, true).statusCode())
        .isEqualTo(200);
    JsonNode release = shop.release();
    JsonNode certificate =
        ApiClient.json(
            shop.qa.get("/api/v1/release/" + release.get("id").asLong() + "/certificate.json"));
    JsonNode concession = certificate.get("set").get("concessions").get(0);
    assertThat(concession.get("number").asString()).isEqualTo("" + decision);
    assertThat(concession.get("signedBy").size()).isEqualTo(2);
    assertThat(
            certificate
                .get("set")
                .get("members")
                .valueStream()
                .filter(m -> m.get("conceded").asBoolean())
                .map(m -> m.get("serial").asString()))
        .containsExactly(serial);
  }

  @Test
  void everyWriteOnAReleasedSetIsRefusedAndTakenAgainAfterTheWithdrawal() {
    ReleaseShop shop = ReleaseShop.matched(service);
    String serial = shop.shop.serial(1);
    shop.shop.measure(serial, 1004);
    JsonNode instruction = shop.shop.member(shop.setId, serial).get("current");
    assertThat(shop.shop.signOff(instruction, instruction.get("trimMm").asDouble()).statusCode())
        .isEqualTo(200);
    long reading = shop.shop.measure(serial, 1000.2);
    long release = shop.release().get("id").asLong();

    Map<String, HttpResponse<String>> writes = writes(shop, serial, reading);
    writes.put("sign-off", shop.shop.signOff(instruction, 1));
    writes.forEach(
        (name, answer) -> {
          assertThat(answer.statusCode()).as(name + ": " + answer.body()).isEqualTo(409);
          assertThat(answer.body()).as(name).contains("belongs to a released set");
        });
    JsonNode file = upload(shop, serial);
    assertThat(file.get("state").asString()).isNotEqualTo("RECORDED");
    assertThat(shop.review.latestReading(serial)).isEqualTo("" + reading);
    HttpResponse<String> confirmed =
        shop.shop.technician.post(
            "/api/v1/files/" + file.get("id").asLong() + "/confirm",
            """
            {"version": %d, "serial": "%s", "benchId": %d, "temperatureC": 23}
            """
                .formatted(file.get("version").asInt(), serial, shop.shop.benchId));
    assertThat(confirmed.statusCode()).as(confirmed.body()).isEqualTo(409);

    assertThat(shop.withdraw(release, "labels were mixed up").statusCode()).isEqualTo(200);
    assertThat(shop.shop.state(shop.setId, serial)).isEqualTo("MATCHED");
    assertThat(shop.shop.tryMeasure(serial, 1000.1, 1.2).statusCode()).isEqualTo(201);
    assertThat(
            shop.qa
                .post("/api/v1/review/assemblies/" + serial + "/hold", "{\"reason\": \"look\"}")
                .statusCode())
        .isEqualTo(200);
  }

  private static Map<String, HttpResponse<String>> writes(
      ReleaseShop shop, String serial, long reading) {
    Map<String, HttpResponse<String>> writes = new LinkedHashMap<>();
    writes.put("reading", shop.shop.tryMeasure(serial, 1000, 1.2));
    writes.put(
        "void",
        shop.shop.technician.post(
            "/api/v1/readings/" + reading + "/void", "{\"reason\": \"wrong part\"}"));
    writes.put(
        "hold",
        shop.qa.post("/api/v1/review/assemblies/" + serial + "/hold", "{\"reason\": \"look\"}"));
    Map.of(
            "REMEASURE", "",
            "TRIM_AGAIN", "\"extraTrimMm\": 1",
            "CONCESSION", "",
            "RECENTRE", "",
            "SCRAP", "",
            "REPLACE", "\"newSerial\": \"%s-new\"".formatted(serial),
            "SWAP", "\"otherSerial\": \"%s\"".formatted(shop.shop.serial(2)))
        .forEach((kind, terms) -> writes.put(kind, shop.review.decide(serial, kind, terms)));
    return writes;
  }

  private static JsonNode upload(ReleaseShop shop, String serial) {
    String sweep =
        "# GHZ S DB R 50\n"
            + "2.7 -30 0 -1.2 10 -1.2 10 -30 0\n2.8 -30 0 -1.2 5 -1.2 5 -30 0\n2.9 -30 0 -1.2 1 -1.2 1 -30 0\n";
    HttpResponse<String> answer =
        shop.shop.technician.upload(
            "/api/v1/files",
            new Multipart()
                .field("benchId", "" + shop.shop.benchId)
                .field("temperatureC", "23")
                .file("file", serial + ".s2p", sweep.getBytes(StandardCharsets.US_ASCII)));
    assertThat(answer.statusCode()).as(answer.body()).isIn(200, 201);
    return ApiClient.json(answer).get(0);
  }

  @Test
  void aWithdrawnCertificateStaysAndNamesItsSuccessor() {
    ReleaseShop shop = ReleaseShop.matched(service);
    JsonNode first = shop.release();
    long id = first.get("id").asLong();
    assertThat(shop.withdraw(id, "").statusCode()).isEqualTo(400);
    assertThat(shop.withdraw(id, "labels were mixed up").statusCode()).isEqualTo(200);
    assertThat(shop.withdraw(id, "again").statusCode()).isEqualTo(409);

    JsonNode second = shop.release();

    assertThat(second.get("number").asString()).isNotEqualTo(first.get("number").asString());
    JsonNode kept = ApiClient.json(shop.qa.get("/api/v1/release/" + id));
    assertThat(kept.get("sha256").asString()).isEqualTo(first.get("sha256").asString());
    assertThat(kept.get("withdrawal").get("reason").asString()).isEqualTo("labels were mixed up");
    assertThat(kept.get("supersededById").asLong()).isEqualTo(second.get("id").asLong());
    assertThat(service.pages(Role.TECHNICIAN).get("/release/" + id).body())
        .contains("labels were mixed up", second.get("number").asString())
        .doesNotContain("Sign and withdraw");
  }

  @Test
  void tamperingIsFoundAndNamed() {
    ReleaseShop shop = ReleaseShop.matched(service);
    long id = shop.release().get("id").asLong();
    String serial = shop.shop.serial(3);
    long reading = Long.parseLong(shop.review.latestReading(serial));

    double phaseDeg =
        jdbc.sql("select phase_deg from reading_spot where reading_id = ?")
            .param(reading)
            .query(Double.class)
            .single();
    phase(reading, phaseDeg + 0.5);
    try {
      JsonNode check = shop.check(id);
      assertThat(check.get("hashGood").asBoolean()).isTrue();
      assertThat(check.get("intact").asBoolean()).isFalse();
      assertThat(check.get("differences").valueStream().map(d -> d.get("where").asString()))
          .contains("members / " + serial + " / spots / 2.8E9 / phaseDeg");
    } finally {
      phase(reading, phaseDeg);
    }
    assertThat(shop.check(id).get("intact").asBoolean()).isTrue();

    jdbc.sql("update set_release set snapshot = replace(snapshot, ?, 'X-9') where id = ?")
        .param(serial)
        .param(id)
        .update();
    try {
      JsonNode check = shop.check(id);
      assertThat(check.get("hashGood").asBoolean()).isFalse();
      assertThat(brokenReleases()).contains(id);
      assertThat(service.pages(Role.QA).get("/release/" + id + "/check").body())
          .contains("Do not rely on this certificate", "X-9");
    } finally {
      jdbc.sql("update set_release set snapshot = replace(snapshot, 'X-9', ?) where id = ?")
          .param(serial)
          .param(id)
          .update();
    }
    assertThat(shop.check(id).get("hashGood").asBoolean()).isTrue();
  }

  @Test
  void onlyTheSignersPasswordSigns() {
    ReleaseShop shop = ReleaseShop.matched(service);
    HttpResponse<String> wrong = shop.tryRelease("not the password");
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body()).contains("password");
    assertThat(shop.standing().get("releases").size()).isZero();
    for (Role role : List.of(Role.TECHNICIAN, Role.PLANNER, Role.ADMINISTRATOR)) {
      assertThat(
              service
                  .api(role)
                  .post(
                      "/api/v1/release/sets/" + shop.setId,
                      "{\"password\": \"%s\"}".formatted(RunningService.PASSWORD))
                  .statusCode())
          .isEqualTo(403);
    }
  }

  @Test
  void whatIsSignedIsWhatWasShown() {
    ReleaseShop shop = ReleaseShop.matched(service);
    String seen = shop.standing().get("sha256").asString();
    shop.shop.measure(shop.shop.serial(4), 1000.15);

    HttpResponse<String> stale =
        shop.qa.post(
            "/api/v1/release/sets/" + shop.setId,
            "{\"password\": \"%s\", \"seenSha256\": \"%s\"}"
                .formatted(RunningService.PASSWORD, seen));

    assertThat(stale.statusCode()).isEqualTo(409);
    assertThat(stale.body()).contains("have changed since they were shown");
  }

  private void phase(long reading, double phaseDeg) {
    jdbc.sql("update reading_spot set phase_deg = ? where reading_id = ?")
        .param(phaseDeg)
        .param(reading)
        .update();
  }

  /** Releases that are not as the audit log sealed them. */
  private List<Long> brokenReleases() {
    return service.bean(ChainChecker.class).check().seals().stream()
        .filter(seal -> seal.kind().equals("release"))
        .map(BrokenSeal::id)
        .toList();
  }

  private static void refused(ReleaseShop shop, String why) {
    HttpResponse<String> answer = shop.tryRelease();
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(409);
    assertThat(answer.body()).contains(why);
  }
}
