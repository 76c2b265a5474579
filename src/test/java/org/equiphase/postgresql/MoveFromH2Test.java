package org.equiphase.postgresql;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.TestDatabase;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The demo shop moves from an H2 file to PostgreSQL, and work goes on there. */
class MoveFromH2Test {

  private static final List<String> PAGES =
      List.of(
          "/api/v1/workorders",
          "/api/v1/catalog/cable-types",
          "/api/v1/workorders/QCW-1001",
          "/api/v1/readings?serial=SW-A-014",
          "/api/v1/instructions?serial=SW-A-003");

  @Test
  void everythingIsThereAfterwardsAndNumbersGoOn(@TempDir Path folder) {
    Path file = folder.resolve("shop");
    Map<String, Long> counts;
    Map<String, String> answers = new TreeMap<>();
    ChainCheck before;
    long lastReading;
    try (RunningService old =
        RunningService.startOn(
            "jdbc:h2:file:" + file + TestDatabase.H2_MODE,
            "equiphase.demo-accounts=true",
            "equiphase.demo-data=true")) {
      counts = counts(old);
      PAGES.forEach(page -> answers.put(page, old.api(Role.QA).get(page).body()));
      before = old.bean(ChainChecker.class).check();
      lastReading = last(old, "reading");
    }
    assertThat(before.isIntact()).isTrue();

    String database = TestDatabase.postgres();
    try (RunningService moved =
        RunningService.startOn(
            database, "equiphase.move.from=" + file, "logging.level.org.equiphase.move=info")) {
      ChainCheck after = moved.bean(ChainChecker.class).check();
      assertThat(after.isIntact()).as(after.toString()).isTrue();
      assertThat(after.entries()).isGreaterThanOrEqualTo(before.entries());
      assertThat(after.sealedRows()).isEqualTo(before.sealedRows()).isGreaterThan(100);

      Map<String, Long> now = counts(moved);
      assertThat(now.keySet()).isEqualTo(counts.keySet());
      for (String table : counts.keySet()) {
        if (!table.equals("audit_entry") && !table.equals("api_token")) {
          assertThat(now.get(table)).as(table).isEqualTo(counts.get(table));
        }
      }
      answers.forEach(
          (page, body) ->
              assertThat(ApiClient.json(moved.api(Role.QA).get(page)))
                  .as(page)
                  .isEqualTo(json(body)));

      SmallShop shop = new SmallShop(moved);
      shop.order(1, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
      assertThat(shop.measure(shop.serial(1), 1004)).isGreaterThan(lastReading);
    }

    assertThatThrownBy(() -> RunningService.startOn(database, "equiphase.move.from=" + file))
        .hasMessageContaining("holds data already");
    try (RunningService again = RunningService.startOn(database)) {
      assertThat(again.bean(ChainChecker.class).check().isIntact()).isTrue();
    }
  }

  @Test
  void aFileThatIsNotThereIsNotMade(@TempDir Path folder) {
    assertThatThrownBy(
            () ->
                RunningService.startOn(
                    TestDatabase.postgres(), "equiphase.move.from=" + folder.resolve("none")))
        .rootCause()
        .hasMessageContaining("none");
    assertThat(folder).isEmptyDirectory();
  }

  private static JsonNode json(String body) {
    return JsonMapper.builder().build().readTree(body);
  }

  private static long last(RunningService service, String table) {
    return service
        .bean(JdbcClient.class)
        .sql("select max(id) from " + table)
        .query(Long.class)
        .single();
  }

  /** Rows of each table but those of sessions and of the migrations themselves. */
  private static Map<String, Long> counts(RunningService service) {
    JdbcClient jdbc = service.bean(JdbcClient.class);
    Map<String, Long> counts = new TreeMap<>();
    for (String table :
        jdbc.sql(
                """
                select table_name from information_schema.tables
                where table_schema = 'public' and table_type = 'BASE TABLE'
                """)
            .query(String.class)
            .list()) {
      if (!table.startsWith("spring_session") && !table.equals("flyway_schema_history")) {
        counts.put(table, jdbc.sql("select count(*) from " + table).query(Long.class).single());
      }
    }
    return counts;
  }
}
