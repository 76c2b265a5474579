package org.equiphase.measurement;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Comparator;
import java.util.Map;
import java.util.Optional;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Checks;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * The temperature noted at each bench. It holds for an hour, so that a technician need not type it
 * with each cable, and nobody cuts by that of yesterday.
 */
@Service
public class BenchTemperatures {

  /**
   * A conditioned room moves by less than the bench's budget counts (common practice, no source).
   */
  public static final Duration HOLDS = Duration.ofHours(1);

  private final JdbcClient jdbc;
  private final Catalog catalog;
  private final AuditLog audit;
  private final Clock clock;

  BenchTemperatures(JdbcClient jdbc, Catalog catalog, AuditLog audit, Clock clock) {
    this.jdbc = jdbc;
    this.catalog = catalog;
    this.audit = audit;
    this.clock = clock;
  }

  public record Noted(double temperatureC, Instant at, String by) {}

  @Transactional
  public Noted note(long benchId, double temperatureC) {
    Bench bench = catalog.bench(benchId);
    new Checks().inRange("temperatureC", temperatureC, -100, 300).done();
    jdbc.sql(
            """
            insert into bench_temperature (bench_id, temperature_c, noted_at, noted_by)
            values (?, ?, ?, ?)
            """)
        .param(benchId)
        .param(temperatureC)
        .param(clock.instant().atOffset(ZoneOffset.UTC))
        .param(Actor.name())
        .update();
    audit.record("TEMPERATURE_NOTED", "bench", bench.name(), Map.of("temperatureC", temperatureC));
    return latest(benchId).orElseThrow();
  }

  public Optional<Noted> latest(long benchId) {
    return jdbc.sql("select * from bench_temperature where bench_id = ? order by id desc limit 1")
        .param(benchId)
        .query(BenchTemperatures::toNoted)
        .optional();
  }

  /** What was noted nearest to a time, and no more than it holds before or after. */
  Optional<Noted> nearest(long benchId, Instant at) {
    return jdbc
        .sql("select * from bench_temperature where bench_id = ? and noted_at between ? and ?")
        .param(benchId)
        .param(at.minus(HOLDS).atOffset(ZoneOffset.UTC))
        .param(at.plus(HOLDS).atOffset(ZoneOffset.UTC))
        .query(BenchTemperatures::toNoted)
        .list()
        .stream()
        .min(Comparator.comparing(noted -> Duration.between(noted.at(), at).abs()));
  }

  private static Noted toNoted(ResultSet row, int number) throws SQLException {
    return new Noted(
        row.getDouble("temperature_c"),
        row.getObject("noted_at", OffsetDateTime.class).toInstant(),
        row.getString("noted_by"));
  }

  /** What was noted last, as long as it holds. */
  public Optional<Noted> holding(long benchId) {
    Instant oldest = clock.instant().minus(HOLDS);
    return latest(benchId).filter(noted -> !noted.at().isBefore(oldest));
  }

  /**
   * The temperature at the bench now, °C.
   *
   * @throws InvalidInputException where none was noted within the hour
   */
  public double present(long benchId) {
    return holding(benchId)
        .map(Noted::temperatureC)
        .orElseThrow(
            () -> InvalidInputException.of("temperatureC", Sentence.of("reading.noTemperature")));
  }
}
