package org.equiphase.gauge;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A phase measured for a study.
 *
 * @param phaseDeg as shown by the instrument
 * @param captured whether the service took it from the instrument; else a person typed it
 * @param struckAt when it was struck out; null while it counts
 */
public record StudyValue(
    long id,
    long studyId,
    int part,
    int appraiser,
    int trial,
    double phaseDeg,
    boolean captured,
    Instant takenAt,
    @Nullable Instant struckAt,
    String strikeReason) {

  Turn turn() {
    return new Turn(part, appraiser, trial);
  }
}
