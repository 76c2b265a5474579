package org.equiphase.load;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.springframework.jdbc.core.JdbcTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Fills an H2 database with copies of all the work that it holds: each row as the service left it,
 * but for its ids, names and times. The log is written by itself.
 */
final class BlockFiller {

  private static final JsonMapper JSON = JsonMapper.builder().build();

  private static final List<String> TABLES =
      List.of(
          "work_order",
          "specification_frequency",
          "matched_set",
          "matched_set_center",
          "set_position",
          "assembly",
          "reading",
          "reading_spot",
          "instruction",
          "instruction_prediction",
          "set_velocity",
          "reference_check",
          "bench_temperature",
          "bench_visit",
          "disposition",
          "disposition_signature",
          "disposition_open",
          "set_release",
          "review_finding",
          "process_value",
          "process_assembly",
          "process_velocity");

  /** Columns that hold ids of copied rows. */
  private static final Set<String> IDS =
      Set.of(
          "id",
          "work_order_id",
          "matched_set_id",
          "set_id",
          "position_id",
          "assembly_id",
          "other_assembly_id",
          "reading_id",
          "first_reading_id",
          "conceded_reading_id",
          "instruction_id",
          "disposition_id",
          "supersedes_id");

  /** Large tables with many indexes and no foreign keys. */
  private static final List<String> INDEXED = List.of("process_value", "audit_entry");

  /** Rows inserted by one statement, about. */
  private static final long BATCH = 50_000;

  private final JdbcTemplate jdbc;
  private final long copies;
  private final List<Index> indexes = new ArrayList<>();

  BlockFiller(JdbcTemplate jdbc, long copies) {
    this.jdbc = jdbc;
    this.copies = copies;
  }

  void fill() {
    dropIndexes();
    // Rows point at each other in circles; all of them come.
    jdbc.execute("set referential_integrity false");
    for (String table : TABLES) {
      copy(table);
    }
    jdbc.execute("set referential_integrity true");
    jdbc.update("update review_finding_fill set last_set_id = (select max(id) from matched_set)");
    certificates();
  }

  private record Index(String table, String name, String columns) {}

  /**
   * What is not there need not be kept up to date: building it at the end is several times faster.
   */
  private void dropIndexes() {
    for (String table : INDEXED) {
      List<String> names =
          jdbc.queryForList(
              """
              select index_name from information_schema.indexes
              where table_name = ? and table_schema = 'public' and index_type_name = 'INDEX'
                and not is_generated
              """,
              String.class,
              table);
      for (String name : names) {
        indexes.add(new Index(table, name, columnsOf(table, name)));
      }
    }
    indexes.forEach(index -> jdbc.execute("drop index \"" + index.name() + "\""));
  }

  private String columnsOf(String table, String index) {
    return String.join(
        ", ",
        jdbc.queryForList(
            """
            select column_name || case when ordering_specification = 'DESC' then ' desc' else '' end
            from information_schema.index_columns
            where table_name = ? and index_name = ? and table_schema = 'public'
            order by ordinal_position
            """,
            String.class,
            table,
            index));
  }

  /** Builds the indexes again; to be called when the log is written, too. */
  void index(JdbcTemplate again) {
    indexes.forEach(
        index ->
            again.execute(
                "create index \"%s\" on %s (%s)"
                    .formatted(index.name(), index.table(), index.columns())));
    again.execute("analyze");
  }

  private record Column(String name, String type, boolean named) {}

  private void copy(String table) {
    String block = "block_" + table;
    jdbc.execute("create table " + block + " as select * from " + table);
    long rows = count("select count(*) from " + block);
    Map<String, String> values = new LinkedHashMap<>();
    List<String> moves = new ArrayList<>();
    for (Column column : columns(table, block)) {
      values.put(column.name(), value(column));
      if (column.type().startsWith("TIMESTAMP") || column.name().equals("due_on")) {
        moves.add(column.name() + " = " + value(column).replace("c.x", "0"));
      }
    }
    if (values.containsKey("id")) {
      if (count("select coalesce(max(id), 0) from " + block) >= Copy.STRIDE) {
        throw new IllegalStateException("the block's ids of " + table + " pass the stride");
      }
      jdbc.execute(
          "alter table %s alter column id restart with %d"
              .formatted(table, (copies + 1) * Copy.STRIDE));
    }
    long atOnce = Math.max(1, BATCH / Math.max(1, rows));
    for (long from = 1; rows > 0 && from < copies; from += atOnce) {
      jdbc.update(
          "insert into %s (%s) select %s from system_range(%d, %d) c (x), %s t"
              .formatted(
                  table,
                  String.join(", ", values.keySet()),
                  String.join(", ", values.values()),
                  from,
                  Math.min(copies - 1, from + atOnce - 1),
                  block));
    }
    if (!moves.isEmpty()) {
      String first = values.containsKey("id") ? " where id < " + Copy.STRIDE : firstRows(table);
      jdbc.update("update " + table + " t set " + String.join(", ", moves) + first);
    }
    jdbc.execute("drop table " + block);
  }

  /** Of a table that has no id of its own. */
  private static String firstRows(String table) {
    String column = table.equals("disposition_signature") ? "disposition_id" : "assembly_id";
    return " where " + column + " < " + Copy.STRIDE;
  }

  private List<Column> columns(String table, String block) {
    return jdbc
        .query(
            """
            select column_name, upper(data_type) from information_schema.columns
            where table_name = ? and table_schema = 'public' order by ordinal_position
            """,
            (row, n) -> new Column(row.getString(1), row.getString(2), false),
            table)
        .stream()
        .map(
            column ->
                column.type().startsWith("CHARACTER")
                    ? new Column(column.name(), column.type(), isNamed(block, column.name()))
                    : column)
        .toList();
  }

  private boolean isNamed(String block, String column) {
    return count(
            "select count(*) from %s where %s like '%%%s%%'".formatted(block, column, Copy.NAME))
        > 0;
  }

  private String value(Column column) {
    String name = "t." + column.name();
    String later = "(c.x - %d)".formatted(copies - 1);
    if (column.name().equals("number") && !column.named()) {
      return "'CM-' || (t.matched_set_id + c.x * %d) || '-1'".formatted(Copy.STRIDE);
    }
    if (IDS.contains(column.name())) {
      return name + " + c.x * " + Copy.STRIDE;
    }
    if (column.name().endsWith("_lower")) {
      return "replace(%s, '%s', 'a' || lpad(c.x, 5, '0'))"
          .formatted(name, Copy.NAME.toLowerCase(Locale.ROOT));
    }
    if (column.named()) {
      return "replace(%s, '%s', 'A' || lpad(c.x, 5, '0'))".formatted(name, Copy.NAME);
    }
    if (column.type().startsWith("TIMESTAMP")) {
      return "dateadd('SECOND', %s * %d, %s)".formatted(later, Copy.APART_S, name);
    }
    return column.name().equals("due_on")
        ? "dateadd('DAY', %s / 3, %s)".formatted(later, name)
        : name;
  }

  /** Brings each certificate's data in line with its row, and its hash with its data. */
  private void certificates() {
    for (long id : jdbc.queryForList("select id from set_release", Long.class)) {
      String snapshot =
          jdbc.queryForObject("select snapshot from set_release where id = ?", String.class, id);
      Copy copy = new Copy(id / Copy.STRIDE, copies);
      JsonNode tree = JSON.readTree(snapshot);
      copy.apply(tree);
      String moved = JSON.writeValueAsString(tree);
      jdbc.update(
          "update set_release set snapshot = ?, sha256 = ? where id = ?", moved, sha256(moved), id);
    }
  }

  private long count(String query) {
    Long count = jdbc.queryForObject(query, Long.class);
    return count == null ? 0 : count;
  }

  private static String sha256(String text) {
    try {
      return HexFormat.of()
          .formatHex(
              MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
