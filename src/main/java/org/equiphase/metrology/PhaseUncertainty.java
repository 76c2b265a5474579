package org.equiphase.metrology;

import org.equiphase.rf.Require;

/** Bounds of a phase error from figures that instruments and parts are specified by. */
public final class PhaseUncertainty {
  private PhaseUncertainty() {}

  /**
   * Phase that goes with an uncertainty of the magnitude, asin(10^(U/20) − 1): an error vector that
   * changes the magnitude by U at most turns the phase by that much at most (EURAMET cg-12,
   * uncertainty of phase from that of magnitude). Of the same kind as the figure given: an expanded
   * one gives an expanded one.
   *
   * @param magnitudeUncertaintyDb U, dB, 0 up to 6.02, where the vector is as long as the signal
   * @return degrees, 0 to 90
   * @throws org.equiphase.rf.InvalidQuantityException for {@code magnitudeUncertaintyDb} outside
   */
  public static double ofMagnitudeDeg(double magnitudeUncertaintyDb) {
    Require.within("magnitudeUncertaintyDb", magnitudeUncertaintyDb, 0, 20 * Math.log10(2));
    return asinDeg(Math.expm1(magnitudeUncertaintyDb / 20 * Math.log(10)));
  }

  /**
   * Largest phase error from a vector of unknown angle that lies S below the signal,
   * asin(10^(−S/20)), such as leakage or residual directivity: an arcsine distribution's
   * half-width.
   *
   * @param belowSignalDb S, dB, 0 or more
   * @return degrees, 0 to 90
   * @throws org.equiphase.rf.InvalidQuantityException for {@code belowSignalDb} below 0
   */
  public static double ofVectorDeg(double belowSignalDb) {
    Require.notNegative("belowSignalDb", belowSignalDb);
    return asinDeg(Math.pow(10, -belowSignalDb / 20));
  }

  /**
   * Largest phase error from reflections to and fro between two mismatches, asin(g1·g2), the
   * largest angle of 1/(1 − Γ1·Γ2): an arcsine distribution's half-width. For VSWR or return loss
   * see {@link org.equiphase.rf.Mismatch}.
   *
   * @param gamma1 magnitude of the one reflection coefficient, 0 to 1
   * @param gamma2 magnitude of the other, 0 to 1
   * @return degrees, 0 to 90
   * @throws org.equiphase.rf.InvalidQuantityException for one outside 0 to 1
   */
  public static double ofMismatchDeg(double gamma1, double gamma2) {
    return asinDeg(Require.within("gamma1", gamma1, 0, 1) * Require.within("gamma2", gamma2, 0, 1));
  }

  private static double asinDeg(double ratio) {
    return Math.toDegrees(Math.asin(Math.min(1, ratio)));
  }
}
