package org.equiphase.process;

import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.springframework.jdbc.core.RowCallbackHandler;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/**
 * Reads what is shown, and no more: each query walks one index from its newest entry and stops at
 * the number of rows asked for.
 */
@Repository
class ValueTables {

  private final JdbcClient jdbc;

  ValueTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  List<Series> series(Characteristic characteristic) {
    return jdbc.sql(
            """
            select * from process_series where characteristic = ?
            order by frequency_hz, reference_cable, method, id
            """)
        .param(characteristic.name())
        .query(
            (row, n) ->
                new Series(
                    row.getLong("id"),
                    characteristic,
                    row.getDouble("frequency_hz"),
                    row.getString("reference_cable"),
                    row.getString("method")))
        .list();
  }

  Optional<ProcessValue> value(long id) {
    return jdbc.sql(FactTables.VALUE + "where v.id = ?")
        .param(id)
        .query(FactTables::toValue)
        .optional();
  }

  /** The newest values, the newest first. */
  List<ProcessValue> newest(Selection selection, Window window, int most) {
    Walk walk = walk(selection, window, most);
    return jdbc
        .sql(
            "select v.*, s.characteristic, s.frequency_hz, s.reference_cable, s.method from ("
                + walk.sql()
                + ") v join process_series s on s.id = v.series_id")
        .params(walk.parameters())
        .query(FactTables::toValue)
        .list()
        .stream()
        .sorted(Comparator.comparing(ProcessValue::at).thenComparing(ProcessValue::id).reversed())
        .toList();
  }

  /** How often each cause stands among the newest values; counted where they lie. */
  Map<Cause, Integer> causes(Selection selection, Window window, int most) {
    Walk walk = walk(selection, window, most);
    Map<Cause, Integer> counts = new EnumMap<>(Cause.class);
    jdbc.sql("select cause, count(*) as cases from (" + walk.sql() + ") v group by cause")
        .params(walk.parameters())
        .query(
            (RowCallbackHandler)
                row -> {
                  String cause = row.getString("cause");
                  counts.merge(
                      cause.isEmpty() ? Cause.OTHER : Cause.valueOf(cause),
                      row.getInt("cases"),
                      Integer::sum);
                });
    return counts;
  }

  /** The newest rows of a selection. */
  private record Walk(String sql, List<Object> parameters) {}

  private static Walk walk(Selection selection, Window window, int most) {
    List<String> conditions = new ArrayList<>(List.of("series_id = ?"));
    List<Object> values = new ArrayList<>(List.of(selection.series().id()));
    Map<String, Object> filters = selection.filters();
    String index = index(filters);
    filters.forEach(
        (column, value) -> {
          // What is not in the index must not tempt the database to take another.
          conditions.add(index.contains(column) ? column + " = ?" : "(" + column + " = ?) is true");
          values.add(value);
        });
    if (window.from() != null) {
      conditions.add("at >= ?");
      values.add(window.from().atOffset(ZoneOffset.UTC));
    }
    if (window.until() != null) {
      conditions.add("at < ?");
      values.add(window.until().atOffset(ZoneOffset.UTC));
    }
    ProcessValue before = window.before();
    if (before != null) {
      conditions.add("at <= ? and (at < ? or id < ?)");
      values.add(before.at().atOffset(ZoneOffset.UTC));
      values.add(before.at().atOffset(ZoneOffset.UTC));
      values.add(before.id());
    }
    values.add(most);
    return new Walk(
        "select * from process_value where "
            + String.join(" and ", conditions)
            + " order by "
            + index
            + " at desc, id desc limit ?",
        values);
  }

  /** The columns of the index to walk, which all have one value: so the database takes that one. */
  private static String index(Map<String, Object> filters) {
    StringBuilder columns = new StringBuilder("series_id, ");
    for (String column : filters.keySet()) {
      columns.append(column).append(", ");
      if (column.equals("lot") || column.equals("order_number")) {
        break;
      }
    }
    return columns.toString();
  }
}
