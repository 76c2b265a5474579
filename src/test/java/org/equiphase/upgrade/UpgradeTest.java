package org.equiphase.upgrade;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.flywaydb.core.Flyway;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.springframework.core.io.ClassPathResource;
import org.springframework.core.io.support.EncodedResource;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.jdbc.datasource.init.ScriptUtils;
import tools.jackson.databind.JsonNode;

/**
 * Databases as earlier releases left them come up to date with all that is in them. Each fixture
 * was written by the service of then, working through its API; src/test/resources/upgrade tells
 * how.
 */
class UpgradeTest {

  /** What the upgraded service writes by itself: the end of the log moves, sealing begins. */
  private static final Set<String> MOVING = Set.of("audit_head");

  @ParameterizedTest
  @ValueSource(strings = {"040", "053", "066", "080", "101"})
  void comesUpToDate(String level) throws Exception {
    String url =
        "jdbc:h2:mem:"
            + UUID.randomUUID()
            + ";DB_CLOSE_DELAY=-1;MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE"
            + ";DEFAULT_NULL_ORDERING=HIGH";
    DriverManagerDataSource database = new DriverManagerDataSource(url, "equiphase", "");
    JdbcTemplate jdbc = new JdbcTemplate(database);
    Flyway.configure()
        .dataSource(database)
        .locations("classpath:db/migration")
        .target(level)
        .load()
        .migrate();
    fill(jdbc, "upgrade/V" + level + ".sql");
    Map<String, Content> before = contents(jdbc);
    assertThat(before.get("reading").rows()).hasSizeGreaterThan(6);

    RunningService service = RunningService.startOn(url);
    try {
      for (Map.Entry<String, Content> table : before.entrySet()) {
        if (!MOVING.contains(table.getKey())) {
          assertThat(rows(jdbc, table.getKey(), table.getValue().columns()))
              .as(table.getKey())
              .containsAll(table.getValue().rows());
        }
      }
      assertWorks(service);
    } finally {
      service.close();
    }
  }

  /** The log is whole, earlier work is shown, and work goes on. */
  private static void assertWorks(RunningService service) {
    JsonNode chain = ApiClient.json(service.api(Role.QA).get("/api/v1/audit/chain"));
    assertThat(chain.get("linksInAll").asLong()).isZero();
    assertThat(chain.get("sealsInAll").asLong()).isZero();
    assertThat(chain.get("entries").asLong()).isGreaterThan(20);

    ApiClient technician = service.api(Role.TECHNICIAN);
    JsonNode order = ApiClient.json(technician.get("/api/v1/workorders/FX-1"));
    for (JsonNode set : order.get("sets")) {
      var page = service.pages(Role.TECHNICIAN).get("/sets/" + set.get("id").asLong());
      assertThat(page.statusCode()).isEqualTo(200);
      assertThat(page.body()).contains("FX-");
    }
    JsonNode readings = ApiClient.json(technician.get("/api/v1/readings?serial=FX-A-0"));
    // Wrapped phase of 1000.05 mm with v = 0.695 at 2.8 GHz: -360 f l/(v c) modulo 360.
    double totalDeg = -360 * 2.8e9 * 1.00005 / (0.695 * 299_792_458);
    double phaseDeg = totalDeg - 360 * Math.round(totalDeg / 360);
    assertThat(readings.get(0).get("spots").get(0).get("measuredPhaseDeg").asDouble())
        .isEqualTo(phaseDeg, org.assertj.core.api.Assertions.within(1e-3));
    assertThat(readings.get(1).get("voided").get("reason").asString()).contains("wrong cable");

    var added =
        technician.post(
            "/api/v1/readings",
            String.format(
                Locale.ROOT,
                """
                {"serial": "FX-B-1", "benchId": %d, "temperatureC": 23,
                 "spots": [{"frequencyHz": 2.8e9, "phaseDeg": %.4f}]}
                """,
                readings.get(0).get("benchId").asLong(),
                phaseDeg));
    assertThat(added.statusCode()).as(added.body()).isEqualTo(201);
  }

  private static void fill(JdbcTemplate jdbc, String script) {
    jdbc.execute("set referential_integrity false");
    // The scripts hold what migrations insert, too.
    tables(jdbc).forEach(table -> jdbc.execute("delete from " + table));
    jdbc.execute(
        (org.springframework.jdbc.core.ConnectionCallback<Void>)
            connection -> {
              ScriptUtils.executeSqlScript(
                  connection,
                  new EncodedResource(new ClassPathResource(script), StandardCharsets.UTF_8));
              return null;
            });
    jdbc.execute("set referential_integrity true");
  }

  private record Content(List<String> columns, Set<String> rows) {}

  private static Map<String, Content> contents(JdbcTemplate jdbc) {
    Map<String, Content> contents = new TreeMap<>();
    for (String table : tables(jdbc)) {
      List<String> columns =
          jdbc.queryForList(
              """
              select column_name from information_schema.columns
              where table_name = ? and table_schema = 'public' order by ordinal_position
              """,
              String.class,
              table);
      contents.put(table, new Content(columns, rows(jdbc, table, columns)));
    }
    return contents;
  }

  private static Set<String> rows(JdbcTemplate jdbc, String table, List<String> columns) {
    Set<String> rows = new HashSet<>();
    jdbc.query(
        "select " + String.join(", ", columns) + " from " + table,
        row -> {
          StringBuilder text = new StringBuilder();
          for (int c = 1; c <= columns.size(); c++) {
            text.append(row.getString(c)).append('|');
          }
          rows.add(text.toString());
        });
    return rows;
  }

  private static List<String> tables(JdbcTemplate jdbc) {
    return jdbc
        .queryForList(
            """
            select table_name from information_schema.tables
            where table_schema = 'public' and table_type = 'BASE TABLE'
            """,
            String.class)
        .stream()
        .filter(table -> !table.equals("flyway_schema_history"))
        .filter(table -> !table.startsWith("spring_session"))
        .toList();
  }
}
