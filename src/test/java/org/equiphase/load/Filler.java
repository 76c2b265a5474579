package org.equiphase.load;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Fills an H2 database with finished work, by copying one measured assembly, its set and its order
 * as often as asked: three readings and one signed-off instruction per assembly, sixteen assemblies
 * per set, sixteen sets per order. The audit log is not filled: a write reads only its last entry.
 */
public final class Filler {

  private static final long FIRST_ID = 10_000_000;
  private static final int READINGS_PER_ASSEMBLY = 3;
  private static final int MEMBERS = 16;
  private static final int SETS_PER_ORDER = 16;
  private static final long BATCH = 50_000;

  private final JdbcClient jdbc;

  public Filler(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /**
   * Adds readings.
   *
   * @param serial a measured assembly of a set, with an instruction
   */
  public void fill(String serial, long readings) {
    long assembly = id("select id from assembly where serial = '" + serial + "'");
    long position = id("select position_id from assembly where id = " + assembly);
    long set = id("select matched_set_id from set_position where id = " + position);
    long order = id("select work_order_id from assembly where id = " + assembly);
    long reading = id("select max(id) from reading where assembly_id = " + assembly);
    long instruction = id("select max(id) from instruction where assembly_id = " + assembly);
    String key =
        jdbc.sql("select min(request_key) from idempotency_key").query(String.class).single();
    long assemblies = Math.max(1, readings / READINGS_PER_ASSEMBLY);
    long sets = (assemblies + MEMBERS - 1) / MEMBERS;
    long orders = (sets + SETS_PER_ORDER - 1) / SETS_PER_ORDER;

    copy("work_order", "id = " + order, orders, Map.of("number", "'FILL-' || x"));
    copy(
        "specification_frequency",
        "work_order_id = " + order,
        orders,
        Map.of("work_order_id", FIRST_ID + " + x"));
    copy(
        "matched_set",
        "id = " + set,
        sets,
        Map.of(
            "work_order_id", FIRST_ID + " + (x - 1) / " + SETS_PER_ORDER + " + 1",
            "name", "'S' || x",
            "matched_at", "current_timestamp"));
    copy(
        "set_position",
        "id = " + position,
        assemblies,
        Map.of(
            "matched_set_id", FIRST_ID + " + (x - 1) / " + MEMBERS + " + 1",
            "label", "'' || mod(x - 1, " + MEMBERS + ")"));
    copy(
        "assembly",
        "id = " + assembly,
        assemblies,
        Map.of(
            "serial",
            "'FILL-' || x",
            "work_order_id",
            FIRST_ID + " + (x - 1) / " + MEMBERS * SETS_PER_ORDER + " + 1",
            "position_id",
            FIRST_ID + " + x",
            "state",
            "'MATCHED'"));
    copy(
        "reading",
        "id = " + reading,
        readings,
        Map.of(
            "assembly_id", FIRST_ID + " + mod(x - 1, " + assemblies + ") + 1",
            "taken_at", "dateadd('second', -20 * x - 100000, current_timestamp)",
            "recorded_at", "dateadd('second', -20 * x - 100000, current_timestamp)"));
    copy(
        "reading_spot",
        "reading_id = " + reading,
        readings,
        Map.of("reading_id", FIRST_ID + " + x"));
    copy(
        "instruction",
        "id = " + instruction,
        assemblies,
        Map.of(
            "assembly_id",
            FIRST_ID + " + x",
            "reading_id",
            FIRST_ID + " + x",
            "state",
            "'DONE'",
            "cable_lot",
            "'FILL-' || x / 1000"));
    copy(
        "idempotency_key",
        "request_key = '" + key + "'",
        readings,
        Map.of("request_key", "'fill-' || x"));
    for (String table :
        List.of(
            "work_order", "matched_set", "set_position", "assembly", "reading", "instruction")) {
      jdbc.sql("alter table " + table + " alter column id restart with " + 2 * FIRST_ID).update();
    }
    jdbc.sql("analyze").update();
  }

  private long id(String query) {
    return jdbc.sql(query).query(Long.class).single();
  }

  /** Copies a row x = 1…count times, some columns computed from x. */
  private void copy(String table, String where, long count, Map<String, String> computed) {
    List<String> columns =
        jdbc.sql(
                """
                select column_name from information_schema.columns
                where table_name = ? and table_schema = 'public' order by ordinal_position
                """)
            .param(table)
            .query(String.class)
            .list();
    Map<String, String> values = new LinkedHashMap<>();
    for (String column : columns) {
      String value = computed.get(column);
      if (value == null && column.equals("id")) {
        value = FIRST_ID + " + x";
      }
      values.put(column, value == null ? "t." + column : value);
    }
    List<String> into = new ArrayList<>(values.keySet());
    for (long from = 1; from <= count; from += BATCH) {
      jdbc.sql(
              "insert into "
                  + table
                  + " ("
                  + String.join(", ", into)
                  + ") select "
                  + String.join(", ", values.values())
                  + " from (select * from "
                  + table
                  + " where "
                  + where
                  + ") t, system_range("
                  + from
                  + ", "
                  + Math.min(count, from + BATCH - 1)
                  + ") r (x)")
          .update();
    }
  }
}
