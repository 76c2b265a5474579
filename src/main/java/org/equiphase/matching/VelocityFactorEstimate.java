package org.equiphase.matching;

/**
 * What is known of a cable's velocity factor.
 *
 * @param velocityFactor best estimate, above 0 and at most 1
 * @param standardUncertainty its standard uncertainty (1σ), 0 or more and below a tenth of the
 *     velocity factor, beyond which first-order sums no longer hold
 */
public record VelocityFactorEstimate(double velocityFactor, double standardUncertainty) {

  /**
   * @throws InvalidProblemException naming {@code velocityFactor} or {@code standardUncertainty}
   */
  public VelocityFactorEstimate {
    if (!(velocityFactor > 0 && velocityFactor <= 1)) {
      throw ProblemCheck.refuse(
          "velocityFactor", "must be above 0 and at most 1, not " + velocityFactor);
    }
    ProblemCheck.between("standardUncertainty", standardUncertainty, 0, velocityFactor / 10);
  }

  /**
   * A nominal value with limits, every value between them equally likely: the standard uncertainty
   * is the half-width divided by √3 (JCGM 100:2008, 4.3.7).
   *
   * @param velocityFactor nominal value, above 0 and at most 1
   * @param halfWidth half the width between the limits, 0 or more
   * @throws InvalidProblemException naming {@code velocityFactor} or {@code halfWidth}
   */
  public static VelocityFactorEstimate ofTolerance(double velocityFactor, double halfWidth) {
    VelocityFactorEstimate exact = new VelocityFactorEstimate(velocityFactor, 0);
    ProblemCheck.between("halfWidth", halfWidth, 0, velocityFactor / 10 * Math.sqrt(3));
    return new VelocityFactorEstimate(
        exact.velocityFactor, Math.min(halfWidth / Math.sqrt(3), velocityFactor / 10));
  }
}
