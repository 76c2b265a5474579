package org.equiphase.review;

import java.util.Objects;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.review.Disposition.Kind;
import org.equiphase.review.Disposition.Terms;
import org.equiphase.web.Checks;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A decision as it is asked for.
 *
 * @param readingId the reading that its maker saw; null for none
 * @param after the last decision about the assembly that its maker saw; null for none
 */
public record DispositionDraft(
    @Nullable Kind kind,
    @Nullable String serial,
    @Nullable Long readingId,
    @Nullable Long after,
    @Nullable ReasonCode reasonCode,
    @Nullable String text,
    @Nullable Double extraTrimMm,
    @Nullable Double tooShortLimit,
    @Nullable Long lineStretcherId,
    @Nullable Double stretcherStartMm,
    @Nullable String otherSerial,
    @Nullable String newSerial) {

  static final double MOST_TOO_SHORT = 0.5;
  private static final double MOST_EXTRA_TRIM_MM = 10_000;

  /** A decision that needs no more than its reason. */
  public static DispositionDraft plain(
      Kind kind, String serial, @Nullable Long readingId, ReasonCode reasonCode, String text) {
    return new DispositionDraft(
        kind, serial, readingId, null, reasonCode, text, null, null, null, null, null, null);
  }

  Kind kindGiven() {
    return Objects.requireNonNull(kind);
  }

  void check(Catalog catalog) {
    Checks checks = new Checks().text("serial", serial, 40).text("text", text, 1000);
    if (reasonCode == null) {
      checks.problem("reasonCode", Sentence.of("problem.missingInRequest"));
    }
    if (kind == null) {
      checks.problem("kind", Sentence.of("problem.missingInRequest"));
    } else {
      switch (kind) {
        case TRIM_AGAIN -> checkTrim(checks);
        case FIT_STRETCHER -> checkStretcher(checks, catalog);
        case SWAP -> checks.text("otherSerial", otherSerial, 40);
        case REPLACE -> checks.text("newSerial", newSerial, 40);
        case REMEASURE, RECENTRE, CONCESSION, SCRAP -> {}
      }
    }
    checks.done();
  }

  private void checkTrim(Checks checks) {
    if (extraTrimMm == null && tooShortLimit == null) {
      checks.problem("extraTrimMm", Sentence.of("disposition.trimTermsMissing"));
    }
    if (extraTrimMm != null) {
      checks.inRange("extraTrimMm", extraTrimMm, 0, MOST_EXTRA_TRIM_MM);
    }
    if (tooShortLimit != null) {
      checks.positive("tooShortLimit", tooShortLimit, MOST_TOO_SHORT);
    }
  }

  private void checkStretcher(Checks checks, Catalog catalog) {
    if (lineStretcherId == null || stretcherStartMm == null) {
      checks.problem(
          lineStretcherId == null ? "lineStretcherId" : "stretcherStartMm",
          Sentence.of("problem.missingInRequest"));
      return;
    }
    LineStretcher stretcher = catalog.lineStretcher(lineStretcherId);
    checks.inRange(
        "stretcherStartMm",
        stretcherStartMm,
        stretcher.toRf().lowestSettingMm(),
        stretcher.toRf().highestSettingMm());
  }

  /** Only what the kind has a use for. */
  Terms terms() {
    return switch (kindGiven()) {
      case TRIM_AGAIN -> new Terms(extraTrimMm, tooShortLimit, null, null, null, null);
      case FIT_STRETCHER -> new Terms(null, null, lineStretcherId, stretcherStartMm, null, null);
      case SWAP ->
          new Terms(null, null, null, null, Objects.requireNonNull(otherSerial).strip(), null);
      case REPLACE ->
          new Terms(null, null, null, null, null, Objects.requireNonNull(newSerial).strip());
      case REMEASURE, RECENTRE, CONCESSION, SCRAP -> new Terms(null, null, null, null, null, null);
    };
  }
}
