package org.equiphase.measurement;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.ReferenceCable;
import org.equiphase.measurement.BenchDrift.Series;
import org.equiphase.rf.Method;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.web.Checks;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;
import org.springframework.jdbc.support.KeyHolder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Readings of each bench's reference cable. */
@Service
public class ReferenceChecks {

  /** How long before a reading its check may lie; a bench is overdue long before. */
  private static final Duration LOOK_BACK = Duration.ofDays(8);

  private final JdbcClient jdbc;
  private final Catalog catalog;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;
  private final Clock clock;

  ReferenceChecks(
      JdbcClient jdbc,
      Catalog catalog,
      AuditLog audit,
      ApplicationEventPublisher events,
      Clock clock) {
    this.jdbc = jdbc;
    this.catalog = catalog;
    this.audit = audit;
    this.events = events;
    this.clock = clock;
  }

  /** Stores a check; {@code takenAt} null takes now. */
  @Transactional
  public ReferenceCheck record(
      long benchId,
      String cableSerial,
      Method method,
      double frequencyHz,
      double phaseDeg,
      double temperatureC,
      @Nullable Instant takenAt) {
    Bench bench = catalog.bench(benchId);
    new Checks()
        .text("cableSerial", cableSerial, 40)
        .positive("frequencyHz", frequencyHz, 1e12)
        .inRange("phaseDeg", phaseDeg, -1e6, 1e6)
        .inRange("temperatureC", temperatureC, -100, 300)
        .done();
    if (takenAt != null && takenAt.isAfter(clock.instant().plus(Readings.CLOCK_SKEW))) {
      throw InvalidInputException.of(
          "takenAt", Sentence.of("reading.inTheFuture", takenAt.toString()));
    }
    ReferenceCable cable = bench.referenceCable();
    if (cable != null) {
      cable.correctionDeg(frequencyHz, temperatureC, temperatureC);
    }
    // As fine as the database keeps it, so that the check is found again by its time.
    Instant taken = (takenAt == null ? clock.instant() : takenAt).truncatedTo(ChronoUnit.MICROS);
    Optional<ReferenceCheck> previous = before(benchId, taken);
    String by = Actor.name();
    KeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            """
            insert into reference_check (bench_id, cable_serial, method, frequency_hz, phase_deg,
              temperature_c, taken_at, recorded_by)
            values (?, ?, ?, ?, ?, ?, ?, ?)
            """)
        .param(benchId)
        .param(cableSerial)
        .param(method.name())
        .param(frequencyHz)
        .param(phaseDeg)
        .param(temperatureC)
        .param(taken.atOffset(ZoneOffset.UTC))
        .param(by)
        .update(key, "id");
    ReferenceCheck check =
        new ReferenceCheck(
            Objects.requireNonNull(key.getKey()).longValue(),
            benchId,
            cableSerial,
            method,
            frequencyHz,
            phaseDeg,
            temperatureC,
            taken,
            by);
    audit.record(
        "REFERENCE_CHECKED",
        "bench",
        bench.name(),
        Map.of("cable", cableSerial, "frequencyHz", frequencyHz, "phaseDeg", phaseDeg),
        ReferenceCheckSeal.seal(check));
    Instant from = previous.map(ReferenceCheck::takenAt).orElse(taken);
    events.publishEvent(new DriftChanged(measuredSince(benchId, from)));
    events.publishEvent(new ReferenceChecked(check));
    return check;
  }

  public ReferenceCheck check(long id) {
    return jdbc.sql("select * from reference_check where id = ?")
        .param(id)
        .query(ReferenceChecks::toCheck)
        .optional()
        .orElseThrow(() -> new NotFoundException("reference check", "" + id));
  }

  /**
   * The drift that a check shows against another of its cable, frequency and method, degrees of the
   * phase as shown, in (−180, +180].
   */
  public double driftDeg(ReferenceCheck check, ReferenceCheck since) {
    Bench bench = catalog.bench(check.benchId());
    return WrappedPhase.wrapDeg(BenchDrift.phaseDeg(bench, check, since) - since.phaseDeg());
  }

  /** The first check ever of a check's cable, frequency and method at its bench. */
  public ReferenceCheck baseline(ReferenceCheck check) {
    return baseline(check.benchId(), Series.of(check));
  }

  /** The next check of a check's cable, frequency and method at its bench, by time. */
  public Optional<ReferenceCheck> next(ReferenceCheck check) {
    return jdbc.sql(
            """
            select * from reference_check
            where bench_id = ? and cable_serial = ? and method = ? and frequency_hz = ?
              and taken_at >= ? and id <> ?
            order by taken_at, id limit 1
            """)
        .param(check.benchId())
        .param(check.cableSerial())
        .param(check.method().name())
        .param(check.frequencyHz())
        .param(check.takenAt().atOffset(ZoneOffset.UTC))
        .param(check.id())
        .query(ReferenceChecks::toCheck)
        .optional();
  }

  /** The bench's last check by the time it was taken. */
  public Optional<ReferenceCheck> latest(long benchId) {
    return jdbc.sql(
            "select * from reference_check where bench_id = ? order by taken_at desc, id desc limit 1")
        .param(benchId)
        .query(ReferenceChecks::toCheck)
        .optional();
  }

  private Optional<ReferenceCheck> before(long benchId, Instant at) {
    return jdbc.sql(
            """
            select * from reference_check where bench_id = ? and taken_at <= ?
            order by taken_at desc, id desc limit 1
            """)
        .param(benchId)
        .param(at.atOffset(ZoneOffset.UTC))
        .query(ReferenceChecks::toCheck)
        .optional();
  }

  private List<Long> measuredSince(long benchId, Instant from) {
    return jdbc.sql(
            """
            select distinct assembly_id from reading
            where bench_id = ? and taken_at >= ? and voided_at is null order by assembly_id
            """)
        .param(benchId)
        .param(from.atOffset(ZoneOffset.UTC))
        .query(Long.class)
        .list();
  }

  /** The drift of the benches that took the readings. */
  public ReadingDrifts drifts(Collection<Reading> readings) {
    Map<Long, List<Instant>> taken = new LinkedHashMap<>();
    for (Reading reading : readings) {
      taken.computeIfAbsent(reading.benchId(), bench -> new ArrayList<>()).add(reading.takenAt());
    }
    Map<Long, BenchDrift> drifts = new LinkedHashMap<>();
    taken.forEach(
        (benchId, times) ->
            drifts.put(
                benchId,
                drift(catalog.bench(benchId), Collections.min(times), Collections.max(times))));
    return new ReadingDrifts(drifts);
  }

  /** The bench's drift, for readings taken between two moments. */
  private BenchDrift drift(Bench bench, Instant from, Instant to) {
    List<ReferenceCheck> checks =
        new ArrayList<>(
            jdbc.sql(
                    """
                    select * from reference_check
                    where bench_id = ? and taken_at >= ? and taken_at <= ? order by taken_at, id
                    """)
                .param(bench.id())
                .param(from.minus(LOOK_BACK).atOffset(ZoneOffset.UTC))
                .param(to.atOffset(ZoneOffset.UTC))
                .query(ReferenceChecks::toCheck)
                .list());
    Map<Series, ReferenceCheck> baselines = new LinkedHashMap<>();
    for (ReferenceCheck check : checks) {
      baselines.computeIfAbsent(Series.of(check), series -> baseline(bench.id(), series));
    }
    baselines.keySet().stream()
        .flatMap(series -> firstAfter(bench.id(), series, to).stream())
        .sorted(Comparator.comparing(ReferenceCheck::takenAt).thenComparing(ReferenceCheck::id))
        .forEach(checks::add);
    return new BenchDrift(bench, clock.instant(), checks, baselines);
  }

  /** What closes the last drift of a series; later checks tell nothing about earlier readings. */
  private Optional<ReferenceCheck> firstAfter(long benchId, Series series, Instant moment) {
    return jdbc.sql(
            """
            select * from reference_check
            where bench_id = ? and cable_serial = ? and method = ? and frequency_hz = ?
              and taken_at > ?
            order by bench_id, cable_serial, method, frequency_hz, taken_at, id limit 1
            """)
        .param(benchId)
        .param(series.cableSerial())
        .param(series.method().name())
        .param(series.frequencyHz())
        .param(moment.atOffset(ZoneOffset.UTC))
        .query(ReferenceChecks::toCheck)
        .optional();
  }

  private ReferenceCheck baseline(long benchId, Series series) {
    return jdbc.sql(
            """
            select * from reference_check
            where bench_id = ? and cable_serial = ? and method = ? and frequency_hz = ?
            order by bench_id, cable_serial, method, frequency_hz, taken_at, id limit 1
            """)
        .param(benchId)
        .param(series.cableSerial())
        .param(series.method().name())
        .param(series.frequencyHz())
        .query(ReferenceChecks::toCheck)
        .single();
  }

  /** The bench's checks, the newest first. */
  public List<ReferenceCheck> checks(long benchId, int most) {
    return jdbc.sql(
            "select * from reference_check where bench_id = ? order by taken_at desc, id desc limit ?")
        .param(benchId)
        .param(most)
        .query(ReferenceChecks::toCheck)
        .list();
  }

  static ReferenceCheck toCheck(ResultSet row, int number) throws SQLException {
    return new ReferenceCheck(
        row.getLong("id"),
        row.getLong("bench_id"),
        row.getString("cable_serial"),
        Method.valueOf(row.getString("method")),
        row.getDouble("frequency_hz"),
        row.getDouble("phase_deg"),
        row.getDouble("temperature_c"),
        row.getObject("taken_at", OffsetDateTime.class).toInstant(),
        row.getString("recorded_by"));
  }
}
