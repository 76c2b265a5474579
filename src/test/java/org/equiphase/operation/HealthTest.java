package org.equiphase.operation;

import static org.assertj.core.api.Assertions.assertThat;

import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;

/**
 * The health tells of database, disk and audit log; details and metrics are the administrator's.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class HealthTest {

  private RunningService service;
  private JdbcClient jdbc;

  @BeforeAll
  void start() {
    service = RunningService.start("equiphase.demo-accounts=true");
    jdbc = service.bean(JdbcClient.class);
  }

  @AfterAll
  void stop() {
    service.close();
  }

  @Test
  void theAdministratorSeesWhatIsWell() {
    checkChain();
    JsonNode health =
        ApiClient.json(service.api(Role.ADMINISTRATOR).get("/actuator/health")).get("components");

    for (String part : new String[] {"db", "databaseWrite", "diskSpace", "auditChain"}) {
      assertThat(health.get(part).get("status").asString()).as(part).isEqualTo("UP");
    }
    JsonNode chain = health.get("auditChain").get("details");
    assertThat(chain.get("entries").asLong()).isPositive();
    assertThat(chain.get("brokenLinks").asLong()).isZero();
  }

  @Test
  void othersSeeTheStatusOnly() {
    for (Role role : new Role[] {Role.TECHNICIAN, Role.QA, Role.PLANNER}) {
      assertThat(service.api(role).get("/actuator/health").body())
          .contains("\"status\":\"UP\"")
          .doesNotContain("components");
    }
    for (String group : new String[] {"", "/readiness", "/liveness"}) {
      var answer = service.api().get("/actuator/health" + group);
      assertThat(answer.statusCode()).isEqualTo(200);
      assertThat(answer.body()).doesNotContain("components");
    }
  }

  @Test
  void aBrokenAuditLogIsBadHealthButTheServiceGoesOn() {
    jdbc.sql("update audit_entry set actor = 'another' where id = 1").update();
    checkChain();
    var health = service.api(Role.ADMINISTRATOR).get("/actuator/health");
    var ready = service.api().get("/actuator/health/readiness");
    String metrics = service.api(Role.ADMINISTRATOR).get("/actuator/prometheus").body();
    jdbc.sql("update audit_entry set actor = 'system' where id = 1").update();
    checkChain();

    assertThat(health.statusCode()).isEqualTo(503);
    assertThat(ApiClient.json(health).at("/components/auditChain/details/brokenLinks").asLong())
        .isEqualTo(1);
    assertThat(ready.statusCode()).isEqualTo(200);
    assertThat(metrics).contains("equiphase_audit_faults 1.0");
    assertThat(service.api().get("/actuator/health").statusCode()).isEqualTo(200);
  }

  @Test
  void aDatabaseThatCannotBeWrittenIsBadHealth() {
    jdbc.sql("alter table write_probe rename to write_probe_away").update();
    try {
      assertThat(new DatabaseWriteHealth(jdbc, java.time.Clock.systemUTC()).health().getStatus())
          .hasToString("DOWN");
    } finally {
      jdbc.sql("alter table write_probe_away rename to write_probe").update();
    }
    assertThat(new DatabaseWriteHealth(jdbc, java.time.Clock.systemUTC()).health().getStatus())
        .hasToString("UP");
  }

  @Test
  void metricsAreTheAdministrators() {
    checkChain();
    String metrics = service.api(Role.ADMINISTRATOR).get("/actuator/prometheus").body();

    // Names as Prometheus' own client library and text format have them.
    assertThat(metrics)
        .contains("# TYPE http_server_requests_seconds", "jvm_memory_used_bytes", "hikaricp_")
        .contains("equiphase_audit_faults 0.0", "equiphase_audit_entries ");
    for (Role role : new Role[] {Role.TECHNICIAN, Role.QA, Role.PLANNER}) {
      assertThat(service.api(role).get("/actuator/prometheus").statusCode()).isEqualTo(403);
    }
    assertThat(service.api().get("/actuator/prometheus").statusCode()).isEqualTo(401);
  }

  @Test
  void aDatabaseInMemoryIsNotBackedUp() {
    var answer = service.api(Role.ADMINISTRATOR).get("/api/v1/operation/backup");

    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(ApiClient.json(answer).get("detail").asString()).contains("pg_dump");
  }

  private void checkChain() {
    service.api(Role.QA).get("/api/v1/audit/chain");
  }
}
