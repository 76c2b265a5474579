package org.equiphase.metrology;

import org.equiphase.rf.Frequency;
import org.jspecify.annotations.Nullable;

/**
 * A bench's drift at one moment; a reading is corrected by subtracting {@code driftDeg}.
 *
 * @param driftDeg phase of the reference cable less its baseline, degrees
 * @param before the last check not after the moment
 * @param after the first check after the moment; null where the drift is open, that is not yet
 *     bracketed
 * @param bracketed whether there is a check after the moment
 * @param changeDeg by how much the drift moves between the two checks, degrees, 0 or more; 0 where
 *     open
 * @param beyondLimit whether that change exceeds the bench's limit, so that the readings between
 *     the two checks are put on hold
 * @param residualStandardUncertaintyDeg what is left after the correction, degrees
 */
public record DriftAt(
    double driftDeg,
    DriftCheck before,
    @Nullable DriftCheck after,
    boolean bracketed,
    double changeDeg,
    boolean beyondLimit,
    double residualStandardUncertaintyDeg) {

  /**
   * The same drift at another frequency. Drift is taken as a change of delay, so its phase grows
   * with the frequency; the verdict on the limit stays that of the checks' own frequency.
   *
   * @param checked the frequency of the checks
   * @param wanted the frequency of the reading
   */
  public DriftAt atFrequency(Frequency checked, Frequency wanted) {
    double ratio = wanted.hertz() / checked.hertz();
    return new DriftAt(
        driftDeg * ratio,
        before,
        after,
        bracketed,
        changeDeg * ratio,
        beyondLimit,
        residualStandardUncertaintyDeg * ratio);
  }
}
