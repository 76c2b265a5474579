package org.equiphase.process;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** What each lot's cuts have taught of its velocity factor, step by step. */
@Repository
class VelocityTables {

  private final JdbcClient jdbc;

  VelocityTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /**
   * A lot's velocity factor at one time.
   *
   * @param cuts number of cuts it was learned from
   */
  record LotValue(
      long id,
      long cableTypeId,
      String lot,
      Instant at,
      double velocityFactor,
      double standardUncertainty,
      int cuts) {

    boolean same(LotValue other) {
      return cuts == other.cuts
          && Math.abs(velocityFactor - other.velocityFactor) < 1e-9
          && Math.abs(standardUncertainty - other.standardUncertainty) < 1e-9;
    }
  }

  Optional<LotValue> last(long cableTypeId, String lot) {
    return history(cableTypeId, lot, 1).stream().findFirst();
  }

  /** As learned from readings before a moment. */
  Optional<LotValue> lastBefore(long cableTypeId, String lot, Instant moment) {
    return jdbc.sql(
            """
            select * from process_velocity where cable_type_id = ? and lot = ? and at < ?
            order by cable_type_id, lot, id desc limit 1
            """)
        .param(cableTypeId)
        .param(lot)
        .param(moment.atOffset(ZoneOffset.UTC))
        .query(VelocityTables::toLotValue)
        .optional();
  }

  /** The newest first. */
  List<LotValue> history(long cableTypeId, String lot, int most) {
    return jdbc.sql(
            """
            select * from process_velocity where cable_type_id = ? and lot = ?
            order by cable_type_id, lot, id desc limit ?
            """)
        .param(cableTypeId)
        .param(lot)
        .param(most)
        .query(VelocityTables::toLotValue)
        .list();
  }

  /** Of all lots of a cable type, the newest first. */
  List<LotValue> newest(long cableTypeId, int most) {
    return jdbc.sql(
            """
            select * from process_velocity where cable_type_id = ?
            order by cable_type_id, id desc limit ?
            """)
        .param(cableTypeId)
        .param(most)
        .query(VelocityTables::toLotValue)
        .list();
  }

  void insert(LotValue value) {
    jdbc.sql(
            """
            insert into process_velocity (cable_type_id, lot, at, velocity_factor,
              standard_uncertainty, cuts)
            values (?, ?, ?, ?, ?, ?)
            """)
        .param(value.cableTypeId())
        .param(value.lot())
        .param(value.at().atOffset(ZoneOffset.UTC))
        .param(value.velocityFactor())
        .param(value.standardUncertainty())
        .param(value.cuts())
        .update();
  }

  private static LotValue toLotValue(ResultSet row, int number) throws SQLException {
    return new LotValue(
        row.getLong("id"),
        row.getLong("cable_type_id"),
        row.getString("lot"),
        row.getObject("at", OffsetDateTime.class).toInstant(),
        row.getDouble("velocity_factor"),
        row.getDouble("standard_uncertainty"),
        row.getInt("cuts"));
  }
}
