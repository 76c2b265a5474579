package org.equiphase.audit;

import java.util.List;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The ids of the rows that a {@link Seal} is about, read piece by piece. */
public final class RowIds {

  private RowIds() {}

  /** Ids of a table's rows in ascending order: the next ones after an id. */
  public static List<Long> after(JdbcClient jdbc, String table, long id, int most) {
    return after(jdbc, "id", table, "true", id, most);
  }

  /** The same of another column, of those rows that fulfil a condition. */
  public static List<Long> after(
      JdbcClient jdbc, String column, String table, String condition, long id, int most) {
    return jdbc.sql(
            "select %1$s from %2$s where %1$s > ? and %3$s order by %1$s limit ?"
                .formatted(column, table, condition))
        .param(id)
        .param(most)
        .query(Long.class)
        .list();
  }
}
