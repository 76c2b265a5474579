package org.equiphase.process;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

@Repository
class LimitTables {

  private final JdbcClient jdbc;

  LimitTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /** What was decided last about a selection, also where that is their withdrawal. */
  Optional<KeptLimits> last(String selection) {
    return jdbc.sql(
            """
            select * from process_limits where selection = ? order by selection, id desc limit 1
            """)
        .param(selection)
        .query(LimitTables::toLimits)
        .optional();
  }

  void insert(KeptLimits limits) {
    jdbc.sql(
            """
            insert into process_limits (selection, center, sigma, baseline_count, baseline_from,
              baseline_to, kept_at, kept_by, note, withdrawn)
            values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(limits.selection())
        .param(limits.center())
        .param(limits.sigma())
        .param(limits.baselineCount())
        .param(limits.baselineFrom().atOffset(ZoneOffset.UTC))
        .param(limits.baselineTo().atOffset(ZoneOffset.UTC))
        .param(limits.keptAt().atOffset(ZoneOffset.UTC))
        .param(limits.keptBy())
        .param(limits.note())
        .param(limits.withdrawn())
        .update();
  }

  private static KeptLimits toLimits(ResultSet row, int number) throws SQLException {
    return new KeptLimits(
        row.getLong("id"),
        row.getString("selection"),
        row.getDouble("center"),
        row.getDouble("sigma"),
        row.getInt("baseline_count"),
        instant(row, "baseline_from"),
        instant(row, "baseline_to"),
        instant(row, "kept_at"),
        row.getString("kept_by"),
        row.getString("note"),
        row.getBoolean("withdrawn"));
  }

  private static Instant instant(ResultSet row, String column) throws SQLException {
    return row.getObject(column, OffsetDateTime.class).toInstant();
  }
}
