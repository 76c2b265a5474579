package org.equiphase.review;

import org.equiphase.review.Disposition.Kind;
import org.equiphase.web.Checks;
import org.equiphase.web.Numbers;
import org.jspecify.annotations.Nullable;

/** A decision as it was typed; probabilities in percent. */
record DispositionForm(
    @Nullable Kind kind,
    String serial,
    @Nullable Long readingId,
    @Nullable Long after,
    @Nullable ReasonCode reasonCode,
    @Nullable String text,
    @Nullable String extraTrimMm,
    @Nullable String tooShortPercent,
    @Nullable Long lineStretcherId,
    @Nullable String stretcherStartMm,
    @Nullable String otherSerial,
    @Nullable String newSerial) {

  private static final double PERCENT = 100;

  /** A form without a serial number names none that there is. */
  DispositionForm {
    serial = serial == null ? "" : serial;
  }

  DispositionDraft draft() {
    Checks checks = new Checks();
    Double percent = number(checks, "tooShortPercent", tooShortPercent);
    if (percent != null) {
      checks.positive("tooShortPercent", percent, PERCENT * DispositionDraft.MOST_TOO_SHORT);
    }
    DispositionDraft draft =
        new DispositionDraft(
            kind,
            serial,
            readingId,
            after,
            reasonCode,
            text,
            number(checks, "extraTrimMm", extraTrimMm),
            percent == null ? null : percent / PERCENT,
            lineStretcherId,
            number(checks, "stretcherStartMm", stretcherStartMm),
            otherSerial,
            newSerial);
    checks.done();
    return draft;
  }

  private static @Nullable Double number(Checks checks, String field, @Nullable String typed) {
    return checks.part(() -> Numbers.readOptional(field, typed));
  }
}
