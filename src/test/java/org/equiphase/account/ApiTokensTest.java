package org.equiphase.account;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;

@ExtendWith(RunningService.Extension.class)
class ApiTokensTest {

  private static final String TOKENS = "/api/v1/account/tokens";

  private final RunningService service;

  ApiTokensTest(RunningService service) {
    this.service = service;
  }

  @Test
  void aTokenActsAsItsOwnerUntilItIsRevoked() {
    JsonNode made =
        ApiClient.json(service.api(Role.PLANNER).post(TOKENS, "{\"name\":\"notebook\"}"));
    String secret = made.get("secret").asString();
    ApiClient script = service.api(secret);

    assertThat(ApiClient.json(script.get("/api/v1/account")).get("username").asString())
        .isEqualTo("planner");
    JsonNode listed = ApiClient.json(script.get(TOKENS)).get(0);
    assertThat(listed.get("name").asString()).isEqualTo("notebook");
    assertThat(listed.get("lastUsedAt").isNull()).isFalse();
    assertThat(script.get(TOKENS).body()).doesNotContain(secret);

    long id = made.get("token").get("id").asLong();
    assertThat(service.api(Role.QA).delete(TOKENS + "/" + id).statusCode()).isEqualTo(404);
    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(200);
    assertThat(service.api(Role.PLANNER).delete(TOKENS + "/" + id).statusCode()).isEqualTo(204);
    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(401);
  }

  @Test
  void onlyTheHashIsKept() {
    String secret =
        ApiClient.json(service.api(Role.QA).post(TOKENS, "{\"name\":\"hash\"}"))
            .get("secret")
            .asString();

    String kept =
        service
            .bean(JdbcClient.class)
            .sql("select token_hash from api_token where name = 'hash'")
            .query(String.class)
            .single();
    assertThat(kept).isEqualTo(ApiTokens.sha256(secret)).hasSize(64);
  }

  @Test
  void aTokenExpires() {
    Instant soon = Instant.now().plus(1, ChronoUnit.HOURS);
    JsonNode made =
        ApiClient.json(
            service
                .api(Role.QA)
                .post(TOKENS, "{\"name\":\"short\",\"expiresAt\":\"" + soon + "\"}"));
    ApiClient script = service.api(made.get("secret").asString());
    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(200);

    service
        .bean(JdbcClient.class)
        .sql("update api_token set expires_at = created_at where id = ?")
        .param(made.get("token").get("id").asLong())
        .update();
    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(401);
  }

  @Test
  void badWishesAreRefused() {
    ApiClient api = service.api(Role.QA);
    assertThat(api.post(TOKENS, "{\"name\":\" \"}").body()).contains("1 to 100 characters");
    assertThat(api.post(TOKENS, "{\"name\":\"a\",\"expiresAt\":\"2020-01-01T00:00:00Z\"}").body())
        .contains("must be in the future");
    assertThat(api.post(TOKENS, "{\"name\":\"a\",\"expiresAt\":\"soon\"}").body())
        .contains("expiresAt");
  }

  @Test
  void aTokenWithoutAnEndEndsAfterNinetyDaysAndNoneLastsLongerThanAYear() {
    ApiClient api = service.api(Role.QA);
    JsonNode made = ApiClient.json(api.post(TOKENS, "{\"name\":\"usual\"}")).get("token");
    assertThat(Instant.parse(made.get("expiresAt").asString()))
        .isEqualTo(Instant.parse(made.get("createdAt").asString()).plus(90, ChronoUnit.DAYS));
    Instant late = Instant.now().plus(367, ChronoUnit.DAYS);
    assertThat(api.post(TOKENS, "{\"name\":\"late\",\"expiresAt\":\"" + late + "\"}").body())
        .contains("within 366 days");
  }

  @Test
  void aTokenForLookingChangesNothing() {
    ApiClient script = scoped(Role.ADMINISTRATOR, "READ");
    assertThat(script.get("/api/v1/people").statusCode()).isEqualTo(200);
    for (String path :
        List.of(TOKENS, "/api/v1/people", "/api/v1/account/password", "/api/v1/files")) {
      var refused = script.post(path, "{}");
      assertThat(refused.statusCode()).as(path).isEqualTo(403);
      assertThat(refused.body()).contains("it is for looking only");
    }
    assertThat(script.put("/api/v1/people/qa", "{}").statusCode()).isEqualTo(403);
    assertThat(script.delete(TOKENS + "/1").statusCode()).isEqualTo(403);
  }

  @Test
  void aTokenForMeasuringBringsInReadingsOnly() {
    ApiClient script = scoped(Role.TECHNICIAN, "MEASURE");
    assertThat(script.get("/api/v1/catalog/benches").statusCode()).isEqualTo(200);
    for (String path : List.of("/api/v1/readings", "/api/v1/files/recorded")) {
      assertThat(script.post(path, "{}").statusCode()).as(path).isIn(400, 415);
    }
    for (String path :
        List.of(
            "/api/v1/readings/1/void",
            "/api/v1/instructions/1/sign-off",
            TOKENS,
            "/api/v1/account/sign-out-everywhere")) {
      assertThat(script.post(path, "{}").statusCode()).as(path).isEqualTo(403);
    }
  }

  @Test
  void aTokenForMetricsSeesNothingElse() {
    ApiClient script = scoped(Role.ADMINISTRATOR, "METRICS");
    assertThat(script.get("/actuator/prometheus").body()).contains("equiphase_audit_faults");
    assertThat(script.get("/actuator/health").body()).contains("components");
    for (String path : List.of("/api/v1/people", "/api/v1/account", "/api/v1/workorders")) {
      assertThat(script.get(path).statusCode()).as(path).isEqualTo(403);
    }
    assertThat(script.post(TOKENS, "{}").statusCode()).isEqualTo(403);
  }

  /** A token never gives more than its owner's role. */
  @Test
  void aScopeAddsNothingToARole() {
    assertThat(scoped(Role.PLANNER, "MEASURE").post("/api/v1/readings", "{}").statusCode())
        .isEqualTo(403);
    assertThat(scoped(Role.TECHNICIAN, "READ").get("/api/v1/people").statusCode()).isEqualTo(403);
    assertThat(scoped(Role.TECHNICIAN, "METRICS").get("/actuator/prometheus").statusCode())
        .isEqualTo(403);
  }

  @Test
  void anAdministratorRevokesAllTokensOfAPersonAndEndsTheirSessions() {
    String name = "tokens" + System.nanoTime();
    service
        .bean(Accounts.class)
        .add(new NewPerson(name, "Someone", "correct horse battery", Set.of(Role.QA)));
    ApiClient script = service.api(service.bean(ApiTokens.class).add(name, "a", null).secret());
    PageClient pages = service.pages();
    pages.signIn(name, "correct horse battery");
    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(200);
    assertThat(pages.get("/account").statusCode()).isEqualTo(200);

    service.pages(Role.ADMINISTRATOR).post("/people/" + name + "/sign-out-everywhere", Map.of());

    assertThat(script.get("/api/v1/account").statusCode()).isEqualTo(401);
    assertThat(pages.location(pages.get("/account"))).isEqualTo("/sign-in");
  }

  private ApiClient scoped(Role role, String scope) {
    String json = "{\"name\":\"scoped\",\"scope\":\"" + scope + "\"}";
    return service.api(
        ApiClient.json(service.api(role).post(TOKENS, json)).get("secret").asString());
  }

  @Test
  void anUnknownTokenIsRefused() {
    assertThat(service.api("eqp_unknown").get("/api/v1/account").statusCode()).isEqualTo(401);
  }

  @Test
  void thePageShowsANewTokenOnce() {
    PageClient pages = service.pages(Role.TECHNICIAN);
    var answer = pages.post("/account/tokens", Map.of("name", "bench 3", "days", "30"));
    Matcher secret = Pattern.compile("<code>(eqp_[^<]+)</code>").matcher(answer.body());

    assertThat(secret.find()).isTrue();
    assertThat(service.api(secret.group(1)).get("/api/v1/account").statusCode()).isEqualTo(200);
    assertThat(pages.get("/account").body()).contains("bench 3").doesNotContain(secret.group(1));
    assertThat(pages.post("/account/tokens", Map.of("name", "x", "days", "soon")).body())
        .contains("whole number from 1 to 366");
  }
}
