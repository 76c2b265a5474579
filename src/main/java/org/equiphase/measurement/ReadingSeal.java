package org.equiphase.measurement;

import java.time.LocalDate;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.audit.Digest;
import org.equiphase.audit.RowIds;
import org.equiphase.audit.Seal;
import org.equiphase.audit.SealedRow;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** A reading with its spots and its sweep: all that stays as it is when the reading is voided. */
@Component
class ReadingSeal implements Seal {

  private static final String KIND = "reading";

  private final JdbcClient jdbc;
  private final ReadingTables tables;

  ReadingSeal(JdbcClient jdbc, ReadingTables tables) {
    this.jdbc = jdbc;
    this.tables = tables;
  }

  static SealedRow seal(Reading reading, ReadingEquipment equipment, byte @Nullable [] sweep) {
    return new SealedRow(KIND, reading.id(), digest(reading, equipment, sweep));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    Map<Long, byte[]> sweeps = new HashMap<>();
    jdbc.sql("select reading_id, data from reading_sweep where reading_id in (:ids)")
        .param("ids", ids)
        .query(
            row -> {
              sweeps.put(row.getLong("reading_id"), row.getBytes("data"));
            });
    Map<Long, ReadingEquipment> equipment = new HashMap<>();
    tables.equipment(ids).forEach(used -> equipment.put(used.readingId(), used));
    Map<Long, String> digests = new HashMap<>();
    for (Reading reading : tables.readings(ids)) {
      ReadingEquipment used = Objects.requireNonNull(equipment.get(reading.id()));
      digests.put(reading.id(), digest(reading, used, sweeps.get(reading.id())));
    }
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return RowIds.after(jdbc, "reading", id, most);
  }

  private static String digest(
      Reading reading, ReadingEquipment equipment, byte @Nullable [] sweep) {
    Digest digest =
        new Digest()
            .whole(reading.id())
            .whole(reading.assemblyId())
            .whole(reading.benchId())
            .whole(equipment.instrumentId())
            .whole(equipment.endStandardId())
            .text(day(equipment.instrumentCalibrationDue()))
            .text(day(equipment.benchCalibrationDue()))
            .text(reading.method().name())
            .text(reading.source().name())
            .number(reading.temperatureC())
            .time(reading.takenAt())
            .time(reading.recordedAt())
            .text(reading.recordedBy())
            .number(reading.phaseModuloDeg())
            .number(reading.turnsConfidence())
            .number(reading.delayNs())
            .number(reading.fitResidualDeg())
            .number(reading.worstResidualHz())
            .number(reading.worstResidualDeg())
            .number(reading.standardUncertaintyDeg())
            .whole((long) reading.spots().size());
    for (Reading.Spot spot : reading.spots()) {
      digest
          .number(spot.frequencyHz())
          .number(spot.measuredPhaseDeg())
          .number(spot.planeCorrectionDeg())
          .number(spot.temperatureCorrectionDeg())
          .number(spot.phaseDeg())
          .number(spot.uncertainty().instrumentDeg())
          .number(spot.uncertainty().connectorDeg())
          .number(spot.uncertainty().flexureDeg())
          .number(spot.uncertainty().temperatureDeg())
          .number(spot.insertionLossDb())
          .number(spot.vswr());
    }
    return digest.bytes(sweep).hex();
  }

  private static @Nullable String day(@Nullable LocalDate day) {
    return day == null ? null : day.toString();
  }
}
