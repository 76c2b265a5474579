package org.equiphase.matching;

import java.util.List;

/**
 * The cut to instruct now, and what it promises.
 *
 * <p>In tolerance, too short and too long mean the true phase errors against the acceptance limits:
 * in where all lie within, too short where any lies above, too long (another cut can help) the
 * rest. Without a cut ({@code cutMm} 0) the probabilities are those of the assembly as it is.
 *
 * @param reason why this cut, or none
 * @param cutMm length to cut off now, 0 for none
 * @param staged whether the cut stops short of {@code aimMm} on purpose, to be measured again and
 *     finished later
 * @param aimMm the cut of highest probability in tolerance, were there no limit on cutting too
 *     short; 0 without a cut to aim at
 * @param probabilityIn probability in tolerance after this cut
 * @param probabilityTooShort probability too short after this cut
 * @param probabilityTooLong probability too long after this cut
 * @param expectedCuts mean number of cuts until the work stops, this one included
 * @param overallProbabilityIn probability in tolerance when the work stops
 * @param overallProbabilityTooShort probability too short when the work stops
 * @param fromCutMm standard uncertainty of the length removed from the cut's accuracy
 * @param fromVelocityFactorMm that from the velocity factor, as a length: d·u(v)/v
 * @param spots what to expect at each frequency, in the order of the problem
 */
public record CutPlan(
    Reason reason,
    double cutMm,
    boolean staged,
    double aimMm,
    double probabilityIn,
    double probabilityTooShort,
    double probabilityTooLong,
    double expectedCuts,
    double overallProbabilityIn,
    double overallProbabilityTooShort,
    double fromCutMm,
    double fromVelocityFactorMm,
    List<Prediction> spots) {

  public CutPlan {
    spots = List.copyOf(spots);
  }

  /** Why this cut, or none. */
  public enum Reason {
    /** The cut of highest probability in tolerance. */
    CUT,
    /** Short of that, because it would break the limit on cutting too short. */
    STAGED,
    /** None: measured within the acceptance limit at every frequency. */
    WITHIN_LIMIT,
    /** None: measured too short at some frequency, which no cut can help. */
    TOO_SHORT,
    /**
     * None: no length suits all frequencies, not even with twice the readings' uncertainty to
     * spare, so the error is no pure delay.
     */
    NOT_A_PURE_DELAY,
    /** None: even the longest cut allowed leaves it measured too long. */
    ALLOWANCE,
    /** None: any cut breaks the limit on cutting too short. */
    TOO_RISKY,
    /** None: only a cut shorter than one step keeps the limit on cutting too short. */
    STEP_TOO_COARSE
  }

  /**
   * What to expect at one frequency after the cut.
   *
   * @param frequencyHz the frequency
   * @param degreesPerMm phase that one millimetre of cut adds
   * @param predictedErrorDeg phase error if all goes as planned; negative is too long
   * @param standardUncertaintyDeg root sum of squares of the three terms below
   * @param fromCutDeg standard uncertainty from the cut's accuracy
   * @param fromVelocityFactorDeg that from the velocity factor
   * @param fromReadingDeg that from the reading
   */
  public record Prediction(
      double frequencyHz,
      double degreesPerMm,
      double predictedErrorDeg,
      double standardUncertaintyDeg,
      double fromCutDeg,
      double fromVelocityFactorDeg,
      double fromReadingDeg) {}
}
