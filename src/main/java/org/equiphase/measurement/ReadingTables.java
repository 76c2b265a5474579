package org.equiphase.measurement;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.catalog.Bench;
import org.equiphase.measurement.Reading.Spot;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Repository;

@Repository
class ReadingTables {

  private final JdbcClient jdbc;

  ReadingTables(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  long insert(
      long assemblyId,
      Bench bench,
      Reading.Source source,
      double temperatureC,
      Instant takenAt,
      Instant recordedAt,
      String recordedBy,
      Reduction reduction) {
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into reading (assembly_id, bench_id, instrument_id, end_standard_id, method,
              source, temperature_c, taken_at, recorded_at, recorded_by, phase_modulo_deg,
              turns_confidence, delay_ns, fit_residual_deg, worst_residual_hz, worst_residual_deg,
              standard_uncertainty_deg, instrument_calibration_due, bench_calibration_due)
            values (:assemblyId, :benchId, :instrumentId, :endStandardId, :method, :source,
              :temperatureC, :takenAt, :recordedAt, :recordedBy, :phaseModuloDeg,
              :turnsConfidence, :delayNs, :fitResidualDeg, :worstResidualHz, :worstResidualDeg,
              :standardUncertaintyDeg, :instrumentCalibrationDue, :benchCalibrationDue)
            """)
        .param("assemblyId", assemblyId)
        .param("benchId", bench.id())
        .param("instrumentId", bench.instrument().id())
        .param("endStandardId", reduction.endStandardId(bench))
        .param("method", reduction.method().name())
        .param("source", source.name())
        .param("temperatureC", temperatureC)
        .param("takenAt", takenAt.atOffset(ZoneOffset.UTC))
        .param("recordedAt", recordedAt.atOffset(ZoneOffset.UTC))
        .param("recordedBy", recordedBy)
        .param("phaseModuloDeg", reduction.phaseModuloDeg())
        .param("turnsConfidence", reduction.turnsConfidence())
        .param("delayNs", reduction.delayNs())
        .param("fitResidualDeg", reduction.fitResidualDeg())
        .param("worstResidualHz", reduction.worstResidualHz())
        .param("worstResidualDeg", reduction.worstResidualDeg())
        .param("standardUncertaintyDeg", reduction.standardUncertaintyDeg())
        .param("instrumentCalibrationDue", bench.instrument().calibrationDue())
        .param("benchCalibrationDue", bench.calibrationDue())
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    for (int k = 0; k < reduction.spots().size(); k++) {
      Spot spot = reduction.spots().get(k);
      jdbc.sql(
              """
              insert into reading_spot (reading_id, ordinal, frequency_hz, measured_phase_deg,
                plane_correction_deg, temperature_correction_deg, phase_deg,
                instrument_uncertainty_deg, connector_uncertainty_deg, flexure_uncertainty_deg,
                temperature_uncertainty_deg, insertion_loss_db, vswr)
              values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
              """)
          .param(id)
          .param(k)
          .param(spot.frequencyHz())
          .param(spot.measuredPhaseDeg())
          .param(spot.planeCorrectionDeg())
          .param(spot.temperatureCorrectionDeg())
          .param(spot.phaseDeg())
          .param(spot.uncertainty().instrumentDeg())
          .param(spot.uncertainty().connectorDeg())
          .param(spot.uncertainty().flexureDeg())
          .param(spot.uncertainty().temperatureDeg())
          .param(spot.insertionLossDb())
          .param(spot.vswr())
          .update();
    }
    return id;
  }

  void insertSweep(long readingId, int points, byte[] data) {
    jdbc.sql("insert into reading_sweep values (?, ?, ?)")
        .param(readingId)
        .param(points)
        .param(data)
        .update();
  }

  Optional<byte[]> sweep(long readingId) {
    return jdbc.sql("select data from reading_sweep where reading_id = ?")
        .param(readingId)
        .query(byte[].class)
        .optional();
  }

  Optional<Reading> reading(long id) {
    return readings(jdbc.sql("select * from reading where id = ?").param(id)).stream().findFirst();
  }

  /** Several readings, voided ones too. */
  List<Reading> readings(Collection<Long> ids) {
    return readings(jdbc.sql("select * from reading where id in (:ids)").param("ids", ids));
  }

  /** The valid reading recorded last. */
  Optional<Reading> latest(long assemblyId) {
    return readings(
            jdbc.sql(
                    """
                    select * from reading where assembly_id = ? and voided_at is null
                    order by id desc limit 1
                    """)
                .param(assemblyId))
        .stream()
        .findFirst();
  }

  /** Of each of several assemblies the valid reading recorded last. */
  List<Reading> latest(List<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : readings(
            jdbc.sql(
                    """
                    select r.* from reading r join (
                      select max(id) as id from reading
                      where assembly_id in (:ids) and voided_at is null
                      group by assembly_id) latest on latest.id = r.id
                    """)
                .param("ids", assemblyIds));
  }

  /** The valid readings of several assemblies, the oldest first. */
  List<Reading> valid(List<Long> assemblyIds) {
    return assemblyIds.isEmpty()
        ? List.of()
        : readings(
            jdbc.sql(
                    """
                    select * from reading where assembly_id in (:ids) and voided_at is null
                    order by id
                    """)
                .param("ids", assemblyIds));
  }

  List<Reading> history(long assemblyId) {
    return readings(
        jdbc.sql("select * from reading where assembly_id = ? order by id desc").param(assemblyId));
  }

  List<ReadingEquipment> equipment(Collection<Long> readingIds) {
    return readingIds.isEmpty()
        ? List.of()
        : jdbc.sql(
                """
                select id, bench_id, instrument_id, end_standard_id, instrument_calibration_due,
                  bench_calibration_due
                from reading where id in (:ids)
                """)
            .param("ids", readingIds)
            .query(
                (row, number) ->
                    new ReadingEquipment(
                        row.getLong("id"),
                        row.getLong("bench_id"),
                        row.getLong("instrument_id"),
                        row.getObject("end_standard_id", Long.class),
                        row.getObject("instrument_calibration_due", LocalDate.class),
                        row.getObject("bench_calibration_due", LocalDate.class)))
            .list();
  }

  /** Two queries, however many readings there are. */
  private List<Reading> readings(JdbcClient.StatementSpec statement) {
    List<Reading> bare = statement.query(ReadingTables::toReading).list();
    if (bare.isEmpty()) {
      return bare;
    }
    Map<Long, List<Spot>> spots = new HashMap<>();
    jdbc.sql("select * from reading_spot where reading_id in (:ids) order by reading_id, ordinal")
        .param("ids", bare.stream().map(Reading::id).toList())
        .query(
            row -> {
              spots
                  .computeIfAbsent(row.getLong("reading_id"), id -> new ArrayList<>())
                  .add(toSpot(row));
            });
    return bare.stream().map(r -> r.withSpots(spots.getOrDefault(r.id(), List.of()))).toList();
  }

  boolean voidReading(long id, Reading.Voided voided) {
    return jdbc.sql(
                """
                update reading set voided_at = ?, voided_by = ?, void_reason = ?
                where id = ? and voided_at is null
                """)
            .param(voided.at().atOffset(ZoneOffset.UTC))
            .param(voided.by())
            .param(voided.reason())
            .param(id)
            .update()
        == 1;
  }

  private static Reading toReading(ResultSet row, int number) throws SQLException {
    return new Reading(
        row.getLong("id"),
        row.getLong("assembly_id"),
        row.getLong("bench_id"),
        Method.valueOf(row.getString("method")),
        Reading.Source.valueOf(row.getString("source")),
        row.getDouble("temperature_c"),
        instant(row, "taken_at"),
        instant(row, "recorded_at"),
        row.getString("recorded_by"),
        row.getObject("phase_modulo_deg", Double.class),
        row.getObject("turns_confidence", Double.class),
        row.getObject("delay_ns", Double.class),
        row.getObject("fit_residual_deg", Double.class),
        row.getObject("worst_residual_hz", Double.class),
        row.getObject("worst_residual_deg", Double.class),
        row.getDouble("standard_uncertainty_deg"),
        List.of(),
        voided(row));
  }

  private static Spot toSpot(ResultSet row) throws SQLException {
    return new Spot(
        row.getDouble("frequency_hz"),
        row.getDouble("measured_phase_deg"),
        row.getDouble("plane_correction_deg"),
        row.getDouble("temperature_correction_deg"),
        row.getDouble("phase_deg"),
        new SpotUncertainty(
            row.getDouble("instrument_uncertainty_deg"),
            row.getDouble("connector_uncertainty_deg"),
            row.getDouble("flexure_uncertainty_deg"),
            row.getDouble("temperature_uncertainty_deg")),
        row.getObject("insertion_loss_db", Double.class),
        row.getObject("vswr", Double.class));
  }

  private static Reading.@Nullable Voided voided(ResultSet row) throws SQLException {
    if (row.getObject("voided_at") == null) {
      return null;
    }
    return new Reading.Voided(
        instant(row, "voided_at"), row.getString("voided_by"), row.getString("void_reason"));
  }

  private static Instant instant(ResultSet row, String column) throws SQLException {
    return row.getObject(column, OffsetDateTime.class).toInstant();
  }
}
