package org.equiphase.matching;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Why a member is left, adjusted or replaced: a code and the values that belong to it, so that a
 * page can word it in its own way; {@link #text()} words it in English.
 *
 * @param code the kind of reason
 * @param frequencyHz the frequency that decides
 * @param errorDeg present error relative to the centre at that frequency; negative is too long
 * @param limitDeg acceptance limit at that frequency
 * @param neededMm length that would have to be cut (physical) or added (electrical), where known
 * @param availableMm length that can be cut or added, where it matters
 */
public record Reason(
    Code code,
    double frequencyHz,
    double errorDeg,
    double limitDeg,
    @Nullable Double neededMm,
    @Nullable Double availableMm) {

  /** The kinds of reason. */
  public enum Code {
    /** It is the master. */
    MASTER,
    /**
     * Within the acceptance limit at every frequency; shown is where it is closest to the limit.
     */
    WITHIN_LIMIT,
    /** Out of limits: a cut brings it in. */
    CUT,
    /** Out of limits: the line stretcher takes length out. */
    SHORTEN,
    /** Out of limits: the line stretcher adds length. */
    LENGTHEN,
    /** Too long, and nothing to adjust. */
    TOO_LONG_FIXED,
    /** Too short, and no stretcher. */
    TOO_SHORT_NO_STRETCHER,
    /** The cut that would do is longer than the allowance. */
    ALLOWANCE_TOO_SMALL,
    /** The setting that would do is outside the stretcher's range. */
    STRETCHER_RANGE_TOO_SMALL,
    /** No length would do at all frequencies at once; shown is the frequency to blame. */
    NOT_A_PURE_DELAY
  }

  /**
   * The reason as an English sentence. How much to cut or set is not in it: the amount that a
   * person follows is rounded, and two lengths side by side invite the wrong cut.
   */
  public String text() {
    String where =
        String.format(
            Locale.ROOT, "%+.3f° at %s MHz (limit ±%.3f°)", errorDeg, megahertz(), limitDeg);
    return switch (code) {
      case MASTER -> "The master: the others are matched to it.";
      case WITHIN_LIMIT -> "Within limits; closest to one is " + where + ".";
      case CUT, SHORTEN, LENGTHEN -> side() + where + ".";
      case TOO_LONG_FIXED -> side() + where + ", and nothing may be cut or set.";
      case TOO_SHORT_NO_STRETCHER ->
          side() + where + ". A cable can't grow, and there is no line stretcher.";
      case ALLOWANCE_TOO_SMALL ->
          side() + where + ". A cut of " + needed() + " would do, " + available() + " allowed.";
      case STRETCHER_RANGE_TOO_SMALL ->
          side()
              + where
              + ". "
              + needed()
              + " of line stretcher would do, beyond its "
              + available()
              + ".";
      case NOT_A_PURE_DELAY ->
          "No length suits all frequencies, so the error is no pure delay; farthest off is "
              + where
              + ". Check the connectors and look for damage.";
    };
  }

  private String side() {
    return errorDeg < 0 ? "Too long: " : "Too short: ";
  }

  private String megahertz() {
    return String.format(Locale.ROOT, "%.3f", frequencyHz / 1e6).replaceFirst("\\.?0+$", "");
  }

  private String needed() {
    return millimetres(neededMm);
  }

  private String available() {
    return millimetres(availableMm);
  }

  private static String millimetres(@Nullable Double mm) {
    return mm == null ? "some length" : String.format(Locale.ROOT, "%.3f mm", mm);
  }
}
