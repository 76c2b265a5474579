package org.equiphase.audit;

import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import org.equiphase.web.Checks;
import org.equiphase.web.Require;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Which entries are wanted; null for whatever it be.
 *
 * @param actor username
 * @param from the earliest moment
 * @param to the moment before which they end
 * @param text what the details must hold, in whichever case
 */
public record EntryFilter(
    @Nullable String actor,
    @Nullable String action,
    @Nullable String subjectType,
    @Nullable String subjectKey,
    @Nullable Instant from,
    @Nullable Instant to,
    @Nullable String text) {

  /** The fields as a person or a program writes them; blank ones don't count. */
  record Form(
      @Nullable String actor,
      @Nullable String action,
      @Nullable String subjectType,
      @Nullable String subjectKey,
      @Nullable String from,
      @Nullable String to,
      @Nullable String text) {

    /**
     * @throws org.equiphase.web.InvalidInputException if a time is none, or the two are the wrong
     *     way round
     */
    EntryFilter filter() {
      Checks checks = new Checks();
      Instant first = time("from", from, Duration.ZERO, checks);
      Instant end = time("to", to, Duration.ofDays(1), checks);
      if (first != null && end != null && !first.isBefore(end)) {
        checks.problem("to", Sentence.of("audit.toBeforeFrom", given(to, ""), given(from, "")));
      }
      checks.done();
      return new EntryFilter(
          Require.textOrNull(actor),
          Require.textOrNull(action),
          Require.textOrNull(subjectType),
          Require.textOrNull(subjectKey),
          first,
          end,
          Require.textOrNull(text));
    }

    /** A day (its end is {@code dayLength} later), a date and time in UTC, or one with offset. */
    private static @Nullable Instant time(
        String field, @Nullable String value, Duration dayLength, Checks checks) {
      String text = Require.textOrNull(value);
      if (text == null) {
        return null;
      }
      try {
        if (text.length() == "2026-01-31".length()) {
          return LocalDate.parse(text).atStartOfDay().toInstant(ZoneOffset.UTC).plus(dayLength);
        }
        return text.matches(".*T.*([Zz]|[+-]\\d\\d:\\d\\d)")
            ? OffsetDateTime.parse(text).toInstant()
            : LocalDateTime.parse(text).toInstant(ZoneOffset.UTC);
      } catch (DateTimeException e) {
        checks.problem(field, Sentence.of("audit.noTime", text));
        return null;
      }
    }

    private static String given(@Nullable String text, String missing) {
      return text == null ? missing : text.strip();
    }
  }
}
