package org.equiphase;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.UUID;

/**
 * A fresh database for each service under test: H2 in memory, or a real PostgreSQL where the system
 * property {@code equiphase.test.database} says {@code postgresql}.
 */
public final class TestDatabase {

  /** The modes without which H2 would not do what PostgreSQL does. */
  public static final String H2_MODE =
      ";MODE=PostgreSQL;DATABASE_TO_LOWER=TRUE;DEFAULT_NULL_ORDERING=HIGH;LOCK_TIMEOUT=4000";

  private static final int LOCK_TIMEOUT_MS = 4000;
  private static final int LONG_LOCK_TIMEOUT_MS = 30_000;

  private TestDatabase() {}

  /** JDBC address of a new, empty database of the kind under test. */
  public static String fresh() {
    return System.getProperty("equiphase.test.database", "h2").equals("postgresql")
        ? postgres(LOCK_TIMEOUT_MS)
        : h2();
  }

  /** JDBC address of a new, empty H2 database in memory. */
  public static String h2() {
    return "jdbc:h2:mem:" + UUID.randomUUID() + ";DB_CLOSE_DELAY=-1" + H2_MODE;
  }

  /**
   * JDBC address of a new, empty database on a PostgreSQL that ends with this JVM. Whoever waits
   * for a lock does so long enough for a busy machine.
   */
  public static String postgres() {
    return postgres(LONG_LOCK_TIMEOUT_MS);
  }

  private static String postgres(int lockTimeoutMs) {
    String name = "equiphase_" + UUID.randomUUID().toString().replace("-", "");
    try (Connection connection = Cluster.RUNNING.getPostgresDatabase().getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute("create database " + name);
    } catch (SQLException e) {
      throw new IllegalStateException(e);
    }
    return Cluster.RUNNING.getJdbcUrl("postgres", name)
        + "&password=none&options=-c%20lock_timeout="
        + lockTimeoutMs;
  }

  /** One server for all databases of a test run; as root it is started in a user namespace. */
  private static final class Cluster {
    private static final EmbeddedPostgres RUNNING = start();

    private static EmbeddedPostgres start() {
      try {
        return EmbeddedPostgres.builder()
            .setLocaleConfig("locale", "C")
            .setServerConfig("max_connections", "400")
            .start();
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
