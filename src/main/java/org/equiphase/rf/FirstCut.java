package org.equiphase.rf;

import java.math.BigDecimal;

/**
 * The length to which cable is cut before its connectors are on. All lengths are of bare cable, the
 * parts inside the connectors included, so that what is cut less what is finished is what the trims
 * take off.
 *
 * <p>With the target delay τ, the velocity factor v ± Δv, a connector's electrical length e beyond
 * the end of the cable and its stripped end s, both at each of two ends: finished = v·(c·τ − 2·e) +
 * 2·s, uncertain by ± Δv·(c·τ − 2·e) (length of a line of given delay, v·c·τ, as in any text on
 * transmission lines). The cut is the longest that the trim allowance still takes off where the
 * cable is slowest, but never shorter than the finished length where it is fastest; without an
 * allowance it is the finished length itself.
 *
 * @param cutMm length to cut to, a whole number of steps
 * @param finishedMm length left in the finished assembly with the nominal velocity factor
 * @param finishedSpreadMm how far that may be off, either way
 * @param leastTrimMm trim that the fastest cable takes, and mostTrimMm that of the slowest;
 *     negative where the cable is too short
 * @param allowanceTooSmall whether a piece may need more than the allowance, or comes out too short
 */
public record FirstCut(
    double cutMm,
    double finishedMm,
    double finishedSpreadMm,
    double leastTrimMm,
    double mostTrimMm,
    boolean allowanceTooSmall) {

  /** A step that a sum of binary fractions misses by less than this share still counts as met. */
  private static final double STEP_SLACK = 1e-6;

  /**
   * What is at one end of the cable.
   *
   * @param electricalMm electrical length of the connector beyond the end of the cable, mm of free
   *     space
   * @param cableMm cable that goes into the connector
   */
  public record Connector(double electricalMm, double cableMm) {
    public Connector {
      Require.notNegative("connectorElectricalMm", electricalMm);
      Require.notNegative("connectorCableMm", cableMm);
    }
  }

  /**
   * @param target delay of the finished assembly between its reference planes
   * @param velocityFactorTolerance half-width of the spread of the velocity factor, 0 or more and
   *     below the factor
   * @param connector at both ends
   * @param trimAllowanceMm most that may be trimmed afterwards; 0 for none
   * @param stepMm step of lengths that are cut
   * @throws InvalidQuantityException for a value out of range, and where the connectors alone are
   *     as long as the target
   */
  public static FirstCut of(
      Delay target,
      VelocityFactor velocityFactor,
      double velocityFactorTolerance,
      Connector connector,
      double trimAllowanceMm,
      double stepMm) {
    Require.notNegative("velocityFactorTolerance", velocityFactorTolerance);
    Require.notNegative("trimAllowanceMm", trimAllowanceMm);
    Require.positive("stepMm", stepMm);
    double electricalMm = target.electricalLength().inMillimetres() - 2 * connector.electricalMm;
    if (electricalMm <= 0) {
      throw Require.refuse(
          "connectorElectricalMm",
          "must leave some of the "
              + target.electricalLength().inMillimetres()
              + " mm to the cable");
    }
    double finishedMm = velocityFactor.value() * electricalMm + 2 * connector.cableMm;
    double spreadMm = velocityFactorTolerance * electricalMm;
    double cutMm =
        trimAllowanceMm == 0
            ? steps(Math.rint(finishedMm / stepMm), stepMm)
            : Math.max(
                steps(
                    Math.floor((finishedMm + trimAllowanceMm - spreadMm) / stepMm + STEP_SLACK),
                    stepMm),
                steps(Math.ceil((finishedMm + spreadMm) / stepMm - STEP_SLACK), stepMm));
    double leastTrimMm = cutMm - finishedMm - spreadMm;
    double mostTrimMm = cutMm - finishedMm + spreadMm;
    double slackMm = STEP_SLACK * stepMm;
    return new FirstCut(
        cutMm,
        finishedMm,
        spreadMm,
        leastTrimMm,
        mostTrimMm,
        trimAllowanceMm > 0 && (leastTrimMm < -slackMm || mostTrimMm > trimAllowanceMm + slackMm));
  }

  /** Cable that so many pieces of this length take, each with the width of its saw cut, mm. */
  public double cableMm(int pieces, double kerfMm) {
    return pieces * (cutMm + kerfMm);
  }

  private static double steps(double count, double stepMm) {
    return BigDecimal.valueOf(count).multiply(BigDecimal.valueOf(stepMm)).doubleValue();
  }
}
