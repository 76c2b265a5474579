package org.equiphase.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;

@ExtendWith(RunningService.Extension.class)
class IdempotencyTest {

  private static final String SLOW = "/api/v1/files/test/slow";

  private final RunningService service;
  private final ApiClient api;
  private final TestEndpoints.Counting counting;

  IdempotencyTest(RunningService service) {
    this.service = service;
    api = service.api(Role.TECHNICIAN);
    counting = service.bean(TestEndpoints.Counting.class);
  }

  @Test
  void aWriteWithoutKeyIsRefusedAndNamesTheHeader() {
    var answer =
        api.send(
            api.request(SLOW)
                .header("Content-Type", "application/json")
                .POST(BodyPublishers.ofString("{\"millis\":0}")));

    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(ApiClient.json(answer).get("errors").get(0).get("field").asString())
        .isEqualTo("Idempotency-Key");
  }

  @Test
  void theSameWriteAgainGetsTheSameAnswerAndRunsOnce() {
    String key = newKey();
    int before = counting.runs.get();
    var first = api.write("POST", SLOW, "{\"millis\":0}", key);
    var second = api.write("POST", SLOW, "{\"millis\":0}", key);

    assertThat(first.statusCode()).isEqualTo(201);
    assertThat(counting.runs.get()).isEqualTo(before + 1);
    assertSameAnswer(first, second);
    assertThat(second.headers().firstValue("Idempotency-Replayed")).contains("true");
    assertThat(second.headers().firstValue("X-Content-Type-Options")).contains("nosniff");
  }

  @Test
  void theSameKeyForSomethingElseIsRefused() {
    String key = newKey();
    api.write("POST", SLOW, "{\"millis\":0}", key);
    int before = counting.runs.get();

    assertThat(api.write("POST", SLOW, "{\"millis\":1}", key).statusCode()).isEqualTo(422);
    assertThat(api.write("POST", SLOW + "?x=1", "{\"millis\":0}", key).statusCode()).isEqualTo(422);
    assertThat(counting.runs.get()).isEqualTo(before);
  }

  @Test
  void twoPeopleMayUseTheSameKey() {
    String key = newKey();
    var one = api.write("POST", SLOW, "{\"millis\":0}", key);
    var other = service.api(Role.QA).write("POST", SLOW, "{\"millis\":0}", key);

    assertThat(other.statusCode()).isEqualTo(201);
    assertThat(other.body()).isNotEqualTo(one.body());
  }

  @Test
  void ofTwoAtTheSameTimeTheSecondWaitsAndGetsTheFirstOnesAnswer() {
    String key = newKey();
    int before = counting.runs.get();
    var one = CompletableFuture.supplyAsync(() -> slow(key, 1500));
    var other = CompletableFuture.supplyAsync(() -> slow(key, 1500));

    assertSameAnswer(one.join(), other.join());
    assertThat(one.join().statusCode()).isEqualTo(201);
    assertThat(counting.runs.get()).isEqualTo(before + 1);
  }

  @Test
  void whoeverWaitsTooLongIsToldToTryAgain() throws Exception {
    String key = newKey();
    int before = counting.runs.get();
    var one = CompletableFuture.supplyAsync(() -> slow(key, 6000));
    while (counting.runs.get() == before) {
      Thread.sleep(10);
    }
    var other = slow(key, 6000);

    assertThat(other.statusCode()).isEqualTo(503);
    assertThat(other.headers().firstValue("Retry-After")).contains("1");
    assertThat(one.join().statusCode()).isEqualTo(201);
    assertThat(slow(key, 6000).body()).isEqualTo(one.join().body());
  }

  @Test
  void aRefusedWriteStoresNothingAndFreesItsKey() {
    String key = newKey();
    assertThat(write("conflicts", "refused", key).statusCode()).isEqualTo(409);
    assertThat(write("fails", "refused", key).statusCode()).isEqualTo(500);
    assertThat(stored("refused")).isZero();
    assertThat(api.write("POST", SLOW, "{\"millis\":0}", key).statusCode()).isEqualTo(201);
  }

  @Test
  void aWriteThatSaysDoneAfterItsServiceGaveUpIsAnError() {
    String key = newKey();
    assertThat(write("swallows", "swallowed", key).statusCode()).isEqualTo(500);
    assertThat(stored("swallowed")).isZero();
  }

  @Test
  void filesCountForTheFingerprint() {
    String key = newKey();
    var first = upload(key, "! data");
    var second = upload(key, "! data");
    var other = upload(key, "! date");

    assertThat(first.statusCode()).isEqualTo(200);
    assertSameAnswer(first, second);
    assertThat(other.statusCode()).isEqualTo(422);
  }

  @Test
  void aFormSentTwiceLeadsToTheSamePage() {
    PageClient pages = service.pages(Role.TECHNICIAN);
    String key = newKey();
    var first = pages.post("/files/test/form", Map.of("serial", "A1", "idempotencyKey", key));
    pages.get("/account");
    var second = pages.post("/files/test/form", Map.of("serial", "A1", "idempotencyKey", key));
    var other = pages.post("/files/test/form", Map.of("serial", "A2", "idempotencyKey", key));

    assertThat(first.statusCode()).isEqualTo(302);
    assertThat(pages.location(first)).startsWith("/files/test/A1/");
    assertThat(pages.location(second)).isEqualTo(pages.location(first));
    assertThat(other.statusCode()).isEqualTo(422);
    assertThat(other.body()).contains("must be loaded again");
    assertThat(pages.post("/files/test/form", Map.of("serial", "A", "idempotencyKey", "")).body())
        .contains("idempotencyKey");
  }

  @Test
  void aSecretIsNotKeptForARepetition() {
    String key = newKey();
    var first = api.write("POST", "/api/v1/account/tokens", "{\"name\":\"bench\"}", key);
    var second = api.write("POST", "/api/v1/account/tokens", "{\"name\":\"bench\"}", key);

    assertThat(first.statusCode()).isEqualTo(201);
    assertThat(second.statusCode()).isEqualTo(409);
    byte[] kept =
        service
            .bean(JdbcClient.class)
            .sql("select body from idempotency_key where request_key = ?")
            .param(key)
            .query(byte[].class)
            .single();
    assertThat(kept).isEmpty();
  }

  @Test
  void oldKeysAreForgotten() {
    String key = newKey();
    api.write("POST", SLOW, "{\"millis\":0}", key);
    JdbcClient jdbc = service.bean(JdbcClient.class);
    jdbc.sql(
            """
            update idempotency_key set created_at = current_timestamp - interval '31' day
            where request_key = ?
            """)
        .param(key)
        .update();
    service.bean(IdempotencyKeys.class).purge();

    assertThat(
            jdbc.sql("select count(*) from idempotency_key where request_key = ?")
                .param(key)
                .query(Long.class)
                .single())
        .isZero();
  }

  private static void assertSameAnswer(HttpResponse<String> one, HttpResponse<String> other) {
    assertThat(other.statusCode()).isEqualTo(one.statusCode());
    assertThat(other.body()).isEqualTo(one.body());
    assertThat(other.headers().firstValue("Location"))
        .isEqualTo(one.headers().firstValue("Location"));
    assertThat(other.headers().firstValue("Content-Type"))
        .isEqualTo(one.headers().firstValue("Content-Type"));
  }

  private HttpResponse<String> slow(String key, long millis) {
    return api.write("POST", SLOW, "{\"millis\":" + millis + "}", key);
  }

  private HttpResponse<String> write(String what, String marker, String key) {
    return api.write("POST", "/api/v1/files/test/" + what + "?marker=" + marker, "", key);
  }

  private HttpResponse<String> upload(String key, String content) {
    Multipart parts =
        new Multipart()
            .field("note", "n")
            .file("file", "A1.s2p", content.getBytes(StandardCharsets.UTF_8));
    return api.upload("/api/v1/files/test/parts", parts, key);
  }

  private long stored(String marker) {
    return service
        .bean(JdbcClient.class)
        .sql("select count(*) from setup_code where code_hash = ?")
        .param(marker)
        .query(Long.class)
        .single();
  }

  private static String newKey() {
    return UUID.randomUUID().toString();
  }
}
