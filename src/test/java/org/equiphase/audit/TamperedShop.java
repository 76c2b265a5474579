package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.adjustment.SmallShop;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;

/** A shop with a cut that was signed off, and someone who writes to its database. */
final class TamperedShop {

  final SmallShop shop;
  final String tooLong;
  final long readingId;
  final long instructionId;
  final JdbcClient jdbc;
  private final RunningService service;
  private final TransactionTemplate transaction;

  TamperedShop(RunningService service) {
    this.service = service;
    jdbc = service.bean(JdbcClient.class);
    transaction = new TransactionTemplate(service.bean(PlatformTransactionManager.class));
    shop = new SmallShop(service);
    long set = shop.order(2, "SET", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    tooLong = shop.serial(1);
    readingId = shop.measure(tooLong, 1004);
    shop.measure(shop.serial(2), 1000);
    JsonNode instruction = shop.member(set, tooLong).get("current");
    instructionId = instruction.get("id").asLong();
    var answer =
        shop.technician.post(
            "/api/v1/instructions/" + instructionId + "/sign-off",
            String.format(
                Locale.ROOT,
                "{\"version\": %d, \"doneTrimMm\": %.4f}",
                instruction.get("version").asInt(),
                instruction.get("trimMm").asDouble()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  /** Three entries of one kind at the end of the log; the id of the first. */
  long addThree() {
    AuditLog log = service.bean(AuditLog.class);
    for (int i = 1; i <= 3; i++) {
      Map<String, Integer> details = Map.of("value", i);
      transaction.executeWithoutResult(status -> log.record("TESTED", "test", "subject", details));
    }
    return log.end().id() - 2;
  }

  void sql(String statement, Object... values) {
    assertThat(jdbc.sql(statement).params(values).update()).isPositive();
  }

  String text(String query, Object... values) {
    return jdbc.sql(query).params(values).query(String.class).single();
  }

  JsonNode check() {
    return ApiClient.json(shop.qa.get("/api/v1/audit/chain"));
  }

  /** What the check over HTTP finds, each as "fault first-last" or "fault kind id". */
  List<String> faults() {
    JsonNode check = check();
    List<String> links =
        check
            .get("links")
            .valueStream()
            .map(
                link ->
                    link.get("fault").asString()
                        + " "
                        + link.get("firstId").asLong()
                        + "-"
                        + link.get("lastId").asLong())
            .toList();
    List<String> seals =
        check
            .get("seals")
            .valueStream()
            .map(
                seal ->
                    seal.get("fault").asString()
                        + " "
                        + seal.get("kind").asString()
                        + " "
                        + seal.get("id").asLong())
            .toList();
    assertThat(check.get("linksInAll").asInt()).isEqualTo(links.size());
    assertThat(check.get("sealsInAll").asInt()).isEqualTo(seals.size());
    assertThat(check.get("intact").asBoolean()).isEqualTo(links.isEmpty() && seals.isEmpty());
    return Stream.concat(links.stream(), seals.stream()).toList();
  }
}
