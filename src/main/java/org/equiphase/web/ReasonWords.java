package org.equiphase.web;

import java.util.Locale;
import org.equiphase.matching.Reason;
import org.jspecify.annotations.Nullable;

/** The solver's reasons as sentences. */
public final class ReasonWords {

  private ReasonWords() {}

  public static Sentence of(Reason reason) {
    Sentence where =
        Sentence.of(
            "reason.where",
            Digits.signed(reason.errorDeg(), 3),
            new Digits(megahertz(reason)),
            Digits.of(reason.limitDeg(), 3));
    Sentence side =
        Sentence.of(reason.errorDeg() < 0 ? "reason.tooLong" : "reason.tooShort", where);
    return switch (reason.code()) {
      case MASTER -> Sentence.of("reason.master");
      case WITHIN_LIMIT -> Sentence.of("reason.withinLimit", where);
      case CUT, SHORTEN, LENGTHEN -> Sentence.of("reason.canBeDone", side);
      case TOO_LONG_FIXED -> Sentence.of("reason.tooLongFixed", side);
      case TOO_SHORT_NO_STRETCHER -> Sentence.of("reason.noStretcher", side);
      case ALLOWANCE_TOO_SMALL ->
          Sentence.of(
              "reason.allowance", side, length(reason.neededMm()), length(reason.availableMm()));
      case STRETCHER_RANGE_TOO_SMALL ->
          Sentence.of(
              "reason.range", side, length(reason.neededMm()), length(reason.availableMm()));
      case NOT_A_PURE_DELAY -> Sentence.of("reason.noPureDelay", where);
    };
  }

  private static String megahertz(Reason reason) {
    return String.format(Locale.ROOT, "%.3f", reason.frequencyHz() / 1e6)
        .replaceFirst("\\.?0+$", "");
  }

  private static Sentence length(@Nullable Double mm) {
    return mm == null
        ? Sentence.of("reason.someLength")
        : Sentence.of("reason.mm", Digits.of(mm, 3));
  }
}
