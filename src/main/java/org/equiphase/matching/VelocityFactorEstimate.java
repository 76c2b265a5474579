package org.equiphase.matching;

/**
 * What is known of a cable's velocity factor.
 *
 * @param velocityFactor best estimate, above 0 and at most 1
 * @param standardUncertainty its standard uncertainty (1σ), 0 to a tenth of the velocity factor,
 *     beyond which first-order sums no longer hold
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
    if (!(standardUncertainty >= 0 && standardUncertainty <= most(velocityFactor))) {
      throw ProblemCheck.refuse(
          "standardUncertainty",
          "must be from 0 to a tenth of the velocity factor, not " + standardUncertainty);
    }
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
    double uncertainty = halfWidth / Math.sqrt(3);
    if (!(uncertainty >= 0 && uncertainty <= most(velocityFactor))) {
      throw ProblemCheck.refuse(
          "halfWidth", "must be from 0 to 0.17 times the velocity factor, not " + halfWidth);
    }
    return new VelocityFactorEstimate(exact.velocityFactor, uncertainty);
  }

  /** The greatest standard uncertainty: a tenth, to within rounding. */
  static double most(double velocityFactor) {
    return velocityFactor / 10 * (1 + 1e-12);
  }
}
