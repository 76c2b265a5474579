package org.equiphase.bench;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Optional;
import org.equiphase.audit.Actor;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Who has which assembly before them, so that a second technician is told. */
@Component
class Visits {

  /**
   * After this long without another scan the first one has gone on (common practice, no source).
   */
  private static final Duration STAYS = Duration.ofMinutes(15);

  private final JdbcClient jdbc;
  private final Clock clock;

  Visits(JdbcClient jdbc, Clock clock) {
    this.jdbc = jdbc;
    this.clock = clock;
  }

  /** Someone at a bench since a moment. */
  public record Visit(String person, String benchName, Instant at) {}

  /** Another person's visit that still lasts. */
  Optional<Visit> ofAnother(long assemblyId) {
    return jdbc.sql(
            """
            select v.person, b.name, v.at from bench_visit v join bench b on b.id = v.bench_id
            where v.assembly_id = ? and v.person <> ? and v.at > ?
            """)
        .param(assemblyId)
        .param(Actor.name())
        .param(clock.instant().minus(STAYS).atOffset(ZoneOffset.UTC))
        .query(
            (row, number) ->
                new Visit(
                    row.getString(1),
                    row.getString(2),
                    row.getObject(3, OffsetDateTime.class).toInstant()))
        .optional();
  }

  /** Notes the visit of the person signed in, unless another's still lasts. */
  void enter(long assemblyId, long benchId) {
    if (ofAnother(assemblyId).isPresent()) {
      return;
    }
    String person = Actor.name();
    Instant now = clock.instant();
    int updated =
        jdbc.sql("update bench_visit set bench_id = ?, person = ?, at = ? where assembly_id = ?")
            .param(benchId)
            .param(person)
            .param(now.atOffset(ZoneOffset.UTC))
            .param(assemblyId)
            .update();
    if (updated == 0) {
      jdbc.sql(
              """
              insert into bench_visit (assembly_id, bench_id, person, at) values (?, ?, ?, ?)
              on conflict do nothing
              """)
          .param(assemblyId)
          .param(benchId)
          .param(person)
          .param(now.atOffset(ZoneOffset.UTC))
          .update();
    }
  }
}
