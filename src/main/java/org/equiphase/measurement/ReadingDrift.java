package org.equiphase.measurement;

import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Objects;
import org.equiphase.metrology.DriftAt;
import org.equiphase.metrology.DriftCheck;
import org.equiphase.rf.Frequency;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What the checks of a bench's reference cable say of one reading.
 *
 * @param at the drift at the reading, of the phase as shown at the checks' frequency; null where
 *     not checked
 * @param passes how often the wave passes the reference cable in a check: 2 in reflection
 * @param benchName the bench, for the words
 */
public record ReadingDrift(
    State state,
    @Nullable DriftAt at,
    double checkedHz,
    int passes,
    double limitDeg,
    String benchName) {

  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("yyyy-MM-dd HH:mm 'UTC'", Locale.ROOT).withZone(ZoneOffset.UTC);

  /** How far a reading can be trusted. */
  public enum State {
    /** Checks before and after, within the limit. */
    BRACKETED,
    /** The next check is still to come, and not yet due. */
    OPEN,
    /** The next check is still to come, and overdue. */
    CHECK_DUE,
    /** The checks around it differ by more than the limit. */
    BEYOND_LIMIT,
    /** No check in time before it, and none after. */
    NOT_CHECKED
  }

  /** Whether a plan may count on the reading. */
  public boolean usable() {
    return state != State.BEYOND_LIMIT && state != State.NOT_CHECKED;
  }

  /** What to take off the one-way insertion phase, degrees. */
  public double driftDeg(double frequencyHz) {
    return at == null ? 0 : atFrequency(at, frequencyHz).driftDeg() / passes;
  }

  /** What may be left after that, standard uncertainty, degrees. */
  public double residualDeg(double frequencyHz) {
    return at == null ? 0 : atFrequency(at, frequencyHz).residualStandardUncertaintyDeg() / passes;
  }

  private DriftAt atFrequency(DriftAt drift, double frequencyHz) {
    return drift.atFrequency(Frequency.ofHertz(checkedHz), Frequency.ofHertz(frequencyHz));
  }

  /** The state as a sentence. */
  public Sentence text() {
    return switch (state) {
      case BRACKETED -> Sentence.of("drift.bracketed", between());
      case OPEN -> Sentence.of("drift.open", time(Objects.requireNonNull(at).before()));
      case CHECK_DUE -> Sentence.of("drift.checkDue", benchName);
      case NOT_CHECKED -> Sentence.of("drift.notChecked", benchName);
      case BEYOND_LIMIT ->
          Sentence.of(
              "drift.beyondLimit",
              benchName,
              Digits.of(Objects.requireNonNull(at).changeDeg(), 2),
              between(),
              Digits.of(limitDeg, 2));
    };
  }

  private Sentence between() {
    DriftAt drift = Objects.requireNonNull(at);
    DriftCheck after = drift.after();
    return after == null
        ? Sentence.said(time(drift.before()))
        : Sentence.of("drift.between", time(drift.before()), time(after));
  }

  private static String time(DriftCheck check) {
    return TIME.format(check.at());
  }
}
