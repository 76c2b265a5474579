package org.equiphase.rf;

/**
 * Relations between the measures of a mismatch. g is the magnitude of the reflection coefficient of
 * a passive part, 0 to 1; VSWR and return loss are infinite where the formula says so.
 */
public final class Mismatch {
  private Mismatch() {}

  /** VSWR = (1 + g)/(1 − g); infinite for g = 1. */
  public static double vswrOfGamma(double gamma) {
    double g = gamma(gamma);
    return g == 1 ? Double.POSITIVE_INFINITY : (1 + g) / (1 - g);
  }

  /** g = (VSWR − 1)/(VSWR + 1), for a VSWR of 1 or more, infinite too. */
  public static double gammaOfVswr(double vswr) {
    if (!(vswr >= 1)) {
      throw new InvalidQuantityException("vswr", "vswr must be 1 or more, not " + vswr);
    }
    return Double.isInfinite(vswr) ? 1 : (vswr - 1) / (vswr + 1);
  }

  /** Return loss −20·log10(g), dB, positive; infinite for g = 0. */
  public static double returnLossDbOfGamma(double gamma) {
    return 0.0 - 20 * Math.log10(gamma(gamma));
  }

  /** g = 10^(−RL/20), for a return loss of 0 dB or more, infinite too. */
  public static double gammaOfReturnLossDb(double returnLossDb) {
    if (!(returnLossDb >= 0)) {
      throw new InvalidQuantityException(
          "returnLossDb", "returnLossDb must be 0 or more, not " + returnLossDb);
    }
    return Math.pow(10, -returnLossDb / 20);
  }

  /** Mismatch loss −10·log10(1 − g²), dB; infinite for g = 1. */
  public static double mismatchLossDb(double gamma) {
    double g = gamma(gamma);
    return 0.0 - 10 * Math.log10((1 - g) * (1 + g));
  }

  /** Largest phase error that an unwanted signal of relative size g can cause, asin(g), degrees. */
  public static double maxPhaseErrorDeg(double gamma) {
    return Math.toDegrees(Math.asin(gamma(gamma)));
  }

  /**
   * Largest phase error of a line between two mismatched ends, asin(g1·g2), degrees, one way.
   *
   * @param gamma1 magnitude of the reflection at one end
   * @param gamma2 magnitude of the reflection at the other end
   */
  public static double maxPhaseErrorDeg(double gamma1, double gamma2) {
    return maxPhaseErrorDeg(gamma(gamma1) * gamma(gamma2));
  }

  /**
   * Largest phase ripple of a line between two mismatched ends, asin(g1·g2) with g from the VSWR,
   * degrees, one way: a residual beyond it has another cause.
   *
   * @param vswr1 VSWR of one end, 1 or more
   * @param vswr2 VSWR of the other end, 1 or more
   */
  public static double maxPhaseErrorDegOfVswr(double vswr1, double vswr2) {
    return maxPhaseErrorDeg(gammaOfVswr(vswr1), gammaOfVswr(vswr2));
  }

  private static double gamma(double gamma) {
    return Require.within("gamma", gamma, 0, 1);
  }
}
