package org.equiphase.move;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Copies all rows of one H2 database into one PostgreSQL database with the same tables, all or
 * nothing, and reads them back. Sessions stay behind: people sign in again.
 */
final class DatabaseMove {

  private static final int BATCH_ROWS = 500;
  private static final long BATCH_BYTES = 8 << 20;

  private final Connection from;
  private final Connection to;

  /** Both without auto-commit; the caller commits. */
  DatabaseMove(Connection from, Connection to) {
    this.from = from;
    this.to = to;
  }

  /**
   * @param types as PostgreSQL calls them
   */
  private record Table(String name, List<String> columns, List<String> types) {
    String select() {
      return "select " + String.join(", ", columns) + " from " + name;
    }

    String insert() {
      return "insert into "
          + name
          + " ("
          + String.join(", ", columns)
          + ") values ("
          + String.join(", ", Collections.nCopies(columns.size(), "?"))
          + ")";
    }
  }

  /**
   * @return how many rows were moved
   * @throws IllegalStateException if the databases are not of one version, the target holds data,
   *     or what was written does not read back the same
   */
  long move() throws SQLException {
    refuseOtherVersion();
    List<Table> tables = tables();
    String names = tables.stream().map(Table::name).collect(Collectors.joining(", "));
    // From here on no request can write what is about to be replaced.
    execute("lock table " + names + " in access exclusive mode");
    refuseData();
    List<String> foreignKeys =
        texts(
            to,
            """
            select format('alter table %s alter constraint %I', conrelid::regclass, conname)
            from pg_constraint
            where contype = 'f' and connamespace = current_schema()::regnamespace
            """);
    // What the migrations wrote into the new tables is in the old ones too.
    execute("truncate table " + names);
    // Tables refer to each other in circles, so no order of them would do.
    for (String foreignKey : foreignKeys) {
      execute(foreignKey + " deferrable initially deferred");
    }
    long rows = 0;
    for (Table table : tables) {
      rows += copy(table);
    }
    execute("set constraints all immediate");
    for (String foreignKey : foreignKeys) {
      execute(foreignKey + " not deferrable");
    }
    continueNumbers();
    return rows;
  }

  private void refuseOtherVersion() throws SQLException {
    String versions =
        """
        select version from flyway_schema_history
        where version is not null and success order by version
        """;
    List<String> old = texts(from, versions);
    List<String> now = texts(to, versions);
    if (!old.equals(now)) {
      throw new IllegalStateException(
          "The H2 database is of another version than this service (last migrations "
              + last(old)
              + " and "
              + last(now)
              + "). Start this version on the H2 file once, stop it, and move again.");
    }
  }

  private static String last(List<String> versions) {
    return versions.isEmpty() ? "none" : versions.get(versions.size() - 1);
  }

  private void refuseData() throws SQLException {
    if (!texts(to, "select username from person limit 1").isEmpty()
        || !texts(to, "select '' || id from audit_entry limit 1").isEmpty()) {
      throw new IllegalStateException(
          "The PostgreSQL database holds data already, and nothing was moved. Take"
              + " equiphase.move.from away, or name an empty database.");
    }
  }

  private List<Table> tables() throws SQLException {
    List<Table> tables = new ArrayList<>();
    for (String name :
        texts(
            to,
            """
            select table_name from information_schema.tables
            where table_schema = current_schema() and table_type = 'BASE TABLE'
              and table_name not in
                ('flyway_schema_history', 'spring_session', 'spring_session_attributes')
            order by table_name
            """)) {
      String described =
          " from information_schema.columns where table_schema = current_schema() and table_name = '"
              + name
              + "' order by ordinal_position";
      tables.add(
          new Table(
              name,
              texts(to, "select column_name" + described),
              texts(to, "select data_type" + described)));
    }
    return tables;
  }

  private long copy(Table table) throws SQLException {
    Fingerprint read = new Fingerprint();
    try (Statement select = from.createStatement();
        ResultSet row = select.executeQuery(table.select());
        PreparedStatement insert = to.prepareStatement(table.insert())) {
      int waiting = 0;
      long bytes = 0;
      while (row.next()) {
        List<@Nullable Object> values = values(row, table);
        read.add(values);
        for (int i = 0; i < values.size(); i++) {
          Object value = values.get(i);
          insert.setObject(i + 1, value);
          bytes += value instanceof byte[] content ? content.length : 0;
        }
        insert.addBatch();
        waiting++;
        if (waiting == BATCH_ROWS || bytes > BATCH_BYTES) {
          insert.executeBatch();
          waiting = 0;
          bytes = 0;
        }
      }
      insert.executeBatch();
    } catch (SQLException e) {
      throw new IllegalStateException("The table " + table.name() + " can't be moved", e);
    }
    Fingerprint written = new Fingerprint();
    try (Statement select = to.createStatement()) {
      select.setFetchSize(BATCH_ROWS);
      try (ResultSet row = select.executeQuery(table.select())) {
        while (row.next()) {
          written.add(values(row, table));
        }
      }
    }
    if (!written.equals(read)) {
      throw new IllegalStateException(
          "The table " + table.name() + " reads back otherwise than it was written");
    }
    return read.rows();
  }

  private static List<@Nullable Object> values(ResultSet row, Table table) throws SQLException {
    List<@Nullable Object> values = new ArrayList<>();
    for (int i = 1; i <= table.types().size(); i++) {
      values.add(
          switch (table.types().get(i - 1)) {
            case "bytea" -> row.getBytes(i);
            case "date" -> row.getObject(i, LocalDate.class);
            case "timestamp with time zone" -> row.getObject(i, OffsetDateTime.class);
            case "character", "character varying", "text" -> row.getString(i);
            default -> row.getObject(i);
          });
    }
    return values;
  }

  /** Ids go on where they were, so that none that stands on a sheet is given again. */
  private void continueNumbers() throws SQLException {
    for (String restart :
        texts(
            from,
            """
            select 'alter table ' || table_name || ' alter column ' || column_name
              || ' restart with ' || identity_base
            from information_schema.columns
            where table_schema = current_schema and is_identity = 'YES'
            """)) {
      execute(restart);
    }
  }

  private void execute(String sql) throws SQLException {
    try (Statement statement = to.createStatement()) {
      statement.execute(sql);
    }
  }

  private static List<String> texts(Connection database, String sql) throws SQLException {
    List<String> texts = new ArrayList<>();
    try (Statement statement = database.createStatement();
        ResultSet row = statement.executeQuery(sql)) {
      while (row.next()) {
        texts.add(row.getString(1));
      }
    }
    return texts;
  }
}
