package org.equiphase.workorder;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Assemblies; every update of a row tells whether its version held. */
@Repository
class AssemblyTables {

  private static final String ASSEMBLY =
      """
      select a.*, p.matched_set_id from assembly a
      left join set_position p on p.id = a.position_id
      """;

  private final JdbcClient jdbc;

  AssemblyTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  void insert(
      long orderId,
      @Nullable Long positionId,
      String serial,
      String cableLot,
      @Nullable Double stretcherStartMm) {
    jdbc.sql(
            """
            insert into assembly (version, serial, work_order_id, position_id, cable_lot, state,
              state_reason, trimmed_mm, stretcher_setting_mm)
            values (0, ?, ?, ?, ?, 'AWAITING_READING', '', 0, ?)
            """)
        .param(serial)
        .param(orderId)
        .param(positionId)
        .param(cableLot)
        .param(stretcherStartMm)
        .update();
  }

  void resetStretcherStart(long orderId, @Nullable Double stretcherStartMm) {
    jdbc.sql("update assembly set stretcher_setting_mm = ? where work_order_id = ?")
        .param(stretcherStartMm)
        .param(orderId)
        .update();
  }

  List<Assembly> ofOrder(long orderId) {
    return jdbc.sql(ASSEMBLY + "where a.work_order_id = ? order by a.serial")
        .param(orderId)
        .query(AssemblyTables::toAssembly)
        .list();
  }

  List<Assembly> members(long setId) {
    return jdbc.sql(
            """
            select a.*, p.matched_set_id from set_position p
            join assembly a on a.position_id = p.id
            where p.matched_set_id = ? order by p.ordinal
            """)
        .param(setId)
        .query(AssemblyTables::toAssembly)
        .list();
  }

  List<Assembly> ofLot(String cableLot, int most) {
    return jdbc.sql(ASSEMBLY + "where a.cable_lot = ? order by a.id desc limit ?")
        .param(cableLot)
        .param(most)
        .query(AssemblyTables::toAssembly)
        .list();
  }

  Optional<Assembly> assembly(long id) {
    return jdbc.sql(ASSEMBLY + "where a.id = ?")
        .param(id)
        .query(AssemblyTables::toAssembly)
        .optional();
  }

  Optional<Assembly> bySerial(String serial) {
    return jdbc.sql(ASSEMBLY + "where a.serial = ?")
        .param(serial)
        .query(AssemblyTables::toAssembly)
        .optional();
  }

  Map<Long, String> serials(List<Long> assemblyIds) {
    Map<Long, String> serials = new HashMap<>();
    if (!assemblyIds.isEmpty()) {
      jdbc.sql("select id, serial from assembly where id in (:ids)")
          .param("ids", assemblyIds)
          .query(
              row -> {
                serials.put(row.getLong("id"), row.getString("serial"));
              });
    }
    return serials;
  }

  List<String> existingSerials(List<String> serials) {
    if (serials.isEmpty()) {
      return List.of();
    }
    return jdbc.sql("select serial from assembly where serial in (:serials) order by serial")
        .param("serials", serials)
        .query(String.class)
        .list();
  }

  boolean updateState(Assembly a, AssemblyState state, String reason, @Nullable String heldBy) {
    return jdbc.sql(
                """
                update assembly set version = version + 1, state = ?, state_reason = ?, held_by = ?
                where id = ? and version = ?
                """)
            .param(state.name())
            .param(reason)
            .param(heldBy)
            .param(a.id())
            .param(a.version())
            .update()
        == 1;
  }

  boolean updateAdjustment(Assembly a, double cutMm, @Nullable Double settingMm) {
    return jdbc.sql(
                """
                update assembly set version = version + 1, trimmed_mm = trimmed_mm + ?,
                  stretcher_setting_mm = coalesce(?, stretcher_setting_mm)
                where id = ? and version = ?
                """)
            .param(cutMm)
            .param(settingMm)
            .param(a.id())
            .param(a.version())
            .update()
        == 1;
  }

  boolean updateTerms(Assembly a, ReviewTerms terms, @Nullable Double settingMm) {
    Instant remeasureFrom = terms.remeasureFrom();
    return jdbc.sql(
                """
                update assembly set version = version + 1, own_line_stretcher_id = ?,
                  extra_trim_mm = ?, own_too_short_limit = ?, remeasure_from = ?,
                  conceded_reading_id = ?, stretcher_setting_mm = ?
                where id = ? and version = ?
                """)
            .param(terms.lineStretcherId())
            .param(terms.extraTrimMm())
            .param(terms.tooShortLimit())
            .param(remeasureFrom == null ? null : remeasureFrom.atOffset(ZoneOffset.UTC))
            .param(terms.concededReadingId())
            .param(settingMm)
            .param(a.id())
            .param(a.version())
            .update()
        == 1;
  }

  boolean takeOut(Assembly a) {
    return jdbc.sql(
                """
                update assembly set version = version + 1, position_id = null
                where id = ? and version = ?
                """)
            .param(a.id())
            .param(a.version())
            .update()
        == 1;
  }

  boolean putIn(Assembly a, long positionId) {
    return jdbc.sql(
                """
                update assembly set version = version + 1, position_id = ?
                where id = ? and version = ?
                """)
            .param(positionId)
            .param(a.id())
            .param(a.version())
            .update()
        == 1;
  }

  private static Assembly toAssembly(ResultSet row, int number) throws SQLException {
    return new Assembly(
        row.getLong("id"),
        row.getInt("version"),
        row.getString("serial"),
        row.getLong("work_order_id"),
        row.getString("cable_lot"),
        row.getObject("matched_set_id", Long.class),
        row.getObject("position_id", Long.class),
        AssemblyState.valueOf(row.getString("state")),
        row.getString("state_reason"),
        row.getString("held_by"),
        row.getDouble("trimmed_mm"),
        row.getObject("stretcher_setting_mm", Double.class),
        terms(row));
  }

  private static ReviewTerms terms(ResultSet row) throws SQLException {
    OffsetDateTime remeasureFrom = row.getObject("remeasure_from", OffsetDateTime.class);
    return new ReviewTerms(
        row.getObject("own_line_stretcher_id", Long.class),
        row.getDouble("extra_trim_mm"),
        row.getObject("own_too_short_limit", Double.class),
        remeasureFrom == null ? null : remeasureFrom.toInstant(),
        row.getObject("conceded_reading_id", Long.class));
  }
}
