package org.equiphase.process;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One value of a series, with what it can be selected by.
 *
 * @param serial the assembly; the reference cable for drift
 * @param readingId and instructionId: what it follows from
 * @param person who measured; for a cut, who signed it off
 * @param lot the cable's lot, or the order where none is told; empty for drift
 * @param value in the unit of its characteristic
 * @param lowerLimit and upperLimit: what the order allows; null where it sets no limit
 */
public record ProcessValue(
    long id,
    Series series,
    Instant at,
    @Nullable Long assemblyId,
    String serial,
    @Nullable Long readingId,
    @Nullable Long instructionId,
    @Nullable Long cableTypeId,
    @Nullable Long benchId,
    String person,
    String lot,
    String orderNumber,
    @Nullable Cause cause,
    double value,
    @Nullable Double lowerLimit,
    @Nullable Double upperLimit) {

  /** Whether the other says the same; ids of rows and series don't count. */
  boolean same(ProcessValue other) {
    return withoutIds().equals(other.withoutIds());
  }

  private ProcessValue withoutIds() {
    return in(
        new Series(
            0,
            series.characteristic(),
            series.frequencyHz(),
            series.referenceCable(),
            series.method()));
  }

  ProcessValue in(Series of) {
    return new ProcessValue(
        0,
        of,
        at,
        assemblyId,
        serial,
        readingId,
        instructionId,
        cableTypeId,
        benchId,
        person,
        lot,
        orderNumber,
        cause,
        value,
        lowerLimit,
        upperLimit);
  }
}
