package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The database is tampered with while the service is stopped. */
class StartCheckTest {

  private static final String ACCOUNTS = "equiphase.demo-accounts=true";

  @Test
  void aChangeMadeWhileStoppedIsLoggedAndShownAfterTheStart(@TempDir Path folder) throws Exception {
    Path log = folder.resolve("service.log");
    String logged = "logging.file.name=" + log;
    String url =
        "jdbc:h2:file:"
            + folder.resolve("shop")
            + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH";
    long reading;
    try (RunningService service = RunningService.startOn(url, ACCOUNTS, logged)) {
      StartChecks.await(service);
      reading = new TamperedShop(service).readingId;
    }
    try (RunningService service = RunningService.startOn(url, ACCOUNTS, logged)) {
      assertThat(StartChecks.await(service).isIntact()).isTrue();
      assertThat(service.pages(Role.QA).get("/audit").body())
          .contains("are as they were written")
          .doesNotContain("tampered");
    }
    assertThat(Files.readString(log))
        .contains("Audit log checked:")
        .doesNotContain("Sealed row broken");

    tamper(
        url,
        "update reading_spot set phase_deg = phase_deg + 3 where reading_id = " + reading,
        "delete from audit_entry where id = 3");

    try (RunningService service = RunningService.startOn(url, ACCOUNTS, logged)) {
      StartChecks.await(service);
      var latest = ApiClient.json(service.api(Role.QA).get("/api/v1/audit/chain/latest"));
      assertThat(latest.get("intact").asBoolean()).isFalse();
      assertThat(service.pages(Role.QA).get("/audit").body())
          .contains("The database was tampered with.")
          .contains("Entry 3 was removed.")
          .contains("reading " + reading + " was changed");
    }
    assertThat(Files.readString(log))
        .containsPattern("ERROR .*Audit log broken: Entry 3 was removed\\.")
        .containsPattern("ERROR .*Sealed row broken: reading " + reading + " was changed");
  }

  /** As after an upgrade from a version that sealed nothing. */
  @Test
  void rowsFromBeforeAreSealedAsFound(@TempDir Path folder) throws Exception {
    String url =
        "jdbc:h2:file:"
            + folder.resolve("shop")
            + ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH";
    long reading;
    try (RunningService service = RunningService.startOn(url, ACCOUNTS)) {
      StartChecks.await(service);
      reading = new TamperedShop(service).readingId;
    }
    tamper(
        url,
        "delete from audit_entry",
        "update audit_head set last_id = 0, last_hash = '" + ChainEnd.START + "'");

    try (RunningService service = RunningService.startOn(url, ACCOUNTS)) {
      StartChecks.await(service);
      ChainCheck check = service.bean(ChainChecker.class).check();
      assertThat(check.isIntact()).isTrue();
      assertThat(check.sealedRows()).isEqualTo(5);
    }
    tamper(url, "update reading set temperature_c = 30 where id = " + reading);
    try (RunningService service = RunningService.startOn(url, ACCOUNTS)) {
      assertThat(StartChecks.await(service).seals())
          .extracting(BrokenSeal::kind, BrokenSeal::id)
          .containsExactly(tuple("reading", reading));
    }
  }

  private static void tamper(String url, String... statements) throws SQLException {
    try (Connection connection = DriverManager.getConnection(url, "equiphase", "");
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        assertThat(statement.executeUpdate(sql)).isPositive();
      }
    }
  }
}
