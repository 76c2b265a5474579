package org.equiphase.process;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/**
 * Values of which time.
 *
 * @param from the first moment; null for no bound
 * @param until the first moment after; null for no bound
 * @param before only those older than this value; null for no bound
 */
record Window(@Nullable Instant from, @Nullable Instant until, @Nullable ProcessValue before) {

  static final Window OPEN = new Window(null, null, null);

  /** Both days inclusive, in the zone of the service. */
  static Window days(
      @Nullable LocalDate from, @Nullable LocalDate to, @Nullable ProcessValue before) {
    return new Window(
        from == null ? null : startOf(from), to == null ? null : startOf(to.plusDays(1)), before);
  }

  private static Instant startOf(LocalDate day) {
    return day.atStartOfDay(ZoneId.systemDefault()).toInstant();
  }
}
