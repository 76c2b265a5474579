package org.equiphase.measurement;

import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.Digest;
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

  static SealedRow seal(
      Reading reading, long instrumentId, @Nullable Long endStandardId, byte @Nullable [] sweep) {
    return new SealedRow(KIND, reading.id(), digest(reading, instrumentId, endStandardId, sweep));
  }

  @Override
  public String kind() {
    return KIND;
  }

  @Override
  public Map<Long, String> digests(Collection<Long> ids) {
    Map<Long, Reading> readings = new HashMap<>();
    tables.readings(ids).forEach(reading -> readings.put(reading.id(), reading));
    Map<Long, String> digests = new HashMap<>();
    jdbc.sql(
            """
            select r.id, r.instrument_id, r.end_standard_id, s.data
            from reading r left join reading_sweep s on s.reading_id = r.id
            where r.id in (:ids)
            """)
        .param("ids", ids)
        .query(
            row -> {
              Reading reading = readings.get(row.getLong("id"));
              if (reading != null) {
                digests.put(
                    reading.id(),
                    digest(
                        reading,
                        row.getLong("instrument_id"),
                        row.getObject("end_standard_id", Long.class),
                        row.getBytes("data")));
              }
            });
    return digests;
  }

  @Override
  public List<Long> idsAfter(long id, int most) {
    return jdbc.sql("select id from reading where id > ? order by id limit ?")
        .param(id)
        .param(most)
        .query(Long.class)
        .list();
  }

  private static String digest(
      Reading reading, long instrumentId, @Nullable Long endStandardId, byte @Nullable [] sweep) {
    Digest digest =
        new Digest()
            .whole(reading.id())
            .whole(reading.assemblyId())
            .whole(reading.benchId())
            .whole(instrumentId)
            .whole(endStandardId)
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
}
