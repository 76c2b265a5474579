package org.equiphase.gauge;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A phase measured for a study.
 *
 * @param phaseDeg as shown by the instrument
 * @param struckAt when it was struck out; null while it counts
 */
public record StudyValue(
    long id,
    int part,
    int appraiser,
    int trial,
    double phaseDeg,
    Instant takenAt,
    @Nullable Instant struckAt,
    String strikeReason) {

  Turn turn() {
    return new Turn(part, appraiser, trial);
  }
}
