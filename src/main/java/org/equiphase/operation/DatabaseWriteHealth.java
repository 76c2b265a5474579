package org.equiphase.operation;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import org.springframework.boot.health.contributor.Health;
import org.springframework.boot.health.contributor.HealthIndicator;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.TransactionException;

/**
 * Down where the database can't be written, as on a full disk, though it may still be read. Writes
 * one row, not more often than each {@link #GOOD_FOR}, since everybody may ask for the health.
 */
@Component("databaseWrite")
class DatabaseWriteHealth implements HealthIndicator {

  private static final Duration GOOD_FOR = Duration.ofSeconds(5);

  private final JdbcClient jdbc;
  private final Clock clock;
  private Instant askAgainAt = Instant.MIN;
  private Health last = Health.unknown().build();

  DatabaseWriteHealth(JdbcClient jdbc, Clock clock) {
    this.jdbc = jdbc;
    this.clock = clock;
  }

  @Override
  public synchronized Health health() {
    Instant now = clock.instant();
    if (!now.isBefore(askAgainAt)) {
      last = write(now);
      askAgainAt = now.plus(GOOD_FOR);
    }
    return last;
  }

  private Health write(Instant now) {
    try {
      jdbc.sql("update write_probe set written_at = ? where id = 1")
          .param(now.atOffset(ZoneOffset.UTC))
          .update();
      return Health.up().withDetail("writtenAt", now).build();
    } catch (DataAccessException | TransactionException e) {
      return Health.down(e).build();
    }
  }
}
