package org.equiphase.process;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.equiphase.workorder.SetPosition;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** Writes the facts, and reads those of one assembly. */
@Repository
class FactTables {

  static final String VALUE =
      """
      select v.*, s.characteristic, s.frequency_hz, s.reference_cable, s.method
      from process_value v join process_series s on s.id = v.series_id
      """;

  private final JdbcClient jdbc;

  FactTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  /**
   * Where an assembly stood when it was first measured.
   *
   * @param firstReadingId null before it was
   */
  record Start(
      long assemblyId,
      @Nullable Long setId,
      @Nullable Long firstReadingId,
      double offsetPhaseDeg,
      double offsetDelayPs) {

    static Start unread(long assemblyId) {
      return new Start(assemblyId, null, null, 0, 0);
    }

    SetPosition position() {
      return new SetPosition(0, 0, "", offsetPhaseDeg, offsetDelayPs);
    }

    Start in(@Nullable Long set) {
      return new Start(assemblyId, set, firstReadingId, offsetPhaseDeg, offsetDelayPs);
    }
  }

  /** The assembly's start, kept from others until the transaction ends. */
  Start lock(long assemblyId) {
    jdbc.sql(
            """
            insert into process_assembly (assembly_id, offset_phase_deg, offset_delay_ps)
            values (?, 0, 0) on conflict do nothing
            """)
        .param(assemblyId)
        .update();
    return jdbc.sql("select * from process_assembly where assembly_id = ? for update")
        .param(assemblyId)
        .query((row, n) -> toStart(row))
        .single();
  }

  void update(Start start) {
    jdbc.sql(
            """
            update process_assembly set set_id = ?, first_reading_id = ?, offset_phase_deg = ?,
              offset_delay_ps = ?
            where assembly_id = ?
            """)
        .param(start.setId())
        .param(start.firstReadingId())
        .param(start.offsetPhaseDeg())
        .param(start.offsetDelayPs())
        .param(start.assemblyId())
        .update();
  }

  List<Start> startsIn(long setId) {
    return jdbc.sql("select * from process_assembly where set_id = ? order by assembly_id")
        .param(setId)
        .query((row, n) -> toStart(row))
        .list();
  }

  List<ProcessValue> of(Collection<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : jdbc.sql(VALUE + "where v.assembly_id in (:ids) order by v.id")
            .param("ids", assemblyIds)
            .query(FactTables::toValue)
            .list();
  }

  void delete(ProcessValue value) {
    jdbc.sql("delete from process_value where id = ?").param(value.id()).update();
  }

  void insert(ProcessValue v) {
    Cause cause = v.cause();
    jdbc.sql(
            """
            insert into process_value (series_id, at, assembly_id, serial, reading_id,
              instruction_id, cable_type_id, bench_id, person, lot, order_number, cause, quantity,
              lower_limit, upper_limit)
            values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(seriesId(v.series()))
        .param(v.at().atOffset(ZoneOffset.UTC))
        .param(v.assemblyId())
        .param(v.serial())
        .param(v.readingId())
        .param(v.instructionId())
        .param(v.cableTypeId())
        .param(v.benchId())
        .param(v.person())
        .param(v.lot())
        .param(v.orderNumber())
        .param(cause == null ? "" : cause.name())
        .param(v.value())
        .param(v.lowerLimit())
        .param(v.upperLimit())
        .update();
  }

  /** Moves a bench's drifts, after an earlier check than all before has become their baseline. */
  void shiftDrift(Series series, long benchId, double byDeg) {
    jdbc.sql(
            """
            update process_value set quantity = quantity + ? where series_id = ? and bench_id = ?
            """)
        .param(byDeg)
        .param(seriesId(series))
        .param(benchId)
        .update();
  }

  private long seriesId(Series series) {
    return findSeries(series)
        .orElseGet(
            () -> {
              jdbc.sql(
                      """
                      insert into process_series (characteristic, frequency_hz, reference_cable,
                        method)
                      values (?, ?, ?, ?) on conflict do nothing
                      """)
                  .params(key(series))
                  .update();
              return findSeries(series).orElseThrow();
            });
  }

  private Optional<Long> findSeries(Series series) {
    return jdbc.sql(
            """
            select id from process_series
            where characteristic = ? and frequency_hz = ? and reference_cable = ? and method = ?
            """)
        .params(key(series))
        .query(Long.class)
        .optional();
  }

  private static List<Object> key(Series series) {
    return List.of(
        series.characteristic().name(),
        series.frequencyHz(),
        series.referenceCable(),
        series.method());
  }

  private static Start toStart(ResultSet row) throws SQLException {
    return new Start(
        row.getLong("assembly_id"),
        row.getObject("set_id", Long.class),
        row.getObject("first_reading_id", Long.class),
        row.getDouble("offset_phase_deg"),
        row.getDouble("offset_delay_ps"));
  }

  static ProcessValue toValue(ResultSet row, int number) throws SQLException {
    String cause = row.getString("cause");
    return new ProcessValue(
        row.getLong("id"),
        new Series(
            row.getLong("series_id"),
            Characteristic.valueOf(row.getString("characteristic")),
            row.getDouble("frequency_hz"),
            row.getString("reference_cable"),
            row.getString("method")),
        row.getObject("at", OffsetDateTime.class).toInstant(),
        row.getObject("assembly_id", Long.class),
        row.getString("serial"),
        row.getObject("reading_id", Long.class),
        row.getObject("instruction_id", Long.class),
        row.getObject("cable_type_id", Long.class),
        row.getObject("bench_id", Long.class),
        row.getString("person"),
        row.getString("lot"),
        row.getString("order_number"),
        cause.isEmpty() ? null : Cause.valueOf(cause),
        row.getDouble("quantity"),
        row.getObject("lower_limit", Double.class),
        row.getObject("upper_limit", Double.class));
  }
}
