package org.equiphase.workorder;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What QA has decided for one assembly alone, beside its order's specification.
 *
 * @param lineStretcherId stretcher fitted to it in place of the order's; null for the order's
 * @param extraTrimMm length that may be cut beyond the order's allowance
 * @param tooShortLimit probability of ending too short that its cuts may take; null for the order's
 * @param remeasureFrom readings taken before do not count; null where all do
 * @param concededReadingId reading that is accepted as it is; null for none
 */
public record ReviewTerms(
    @Nullable Long lineStretcherId,
    double extraTrimMm,
    @Nullable Double tooShortLimit,
    @Nullable Instant remeasureFrom,
    @Nullable Long concededReadingId) {

  public static final ReviewTerms NONE = new ReviewTerms(null, 0, null, null, null);

  public ReviewTerms withLineStretcher(long lineStretcherId) {
    return new ReviewTerms(
        lineStretcherId, extraTrimMm, tooShortLimit, remeasureFrom, concededReadingId);
  }

  public ReviewTerms withTrim(double extraTrimMm, @Nullable Double tooShortLimit) {
    return new ReviewTerms(
        lineStretcherId, extraTrimMm, tooShortLimit, remeasureFrom, concededReadingId);
  }

  public ReviewTerms withRemeasureFrom(Instant remeasureFrom) {
    return new ReviewTerms(lineStretcherId, extraTrimMm, tooShortLimit, remeasureFrom, null);
  }

  public ReviewTerms withConcededReading(@Nullable Long concededReadingId) {
    return new ReviewTerms(
        lineStretcherId, extraTrimMm, tooShortLimit, remeasureFrom, concededReadingId);
  }
}
