package org.equiphase.rf;

/**
 * The standard at the far end of an assembly measured in reflection: a short or an open at the end
 * of a short offset line. An open has a fringing capacitance, a short a small inductance, each a
 * polynomial of the frequency.
 *
 * @param kind short or open
 * @param offsetDelay delay of the offset line, one way
 * @param offsetLossDbAt1Ghz loss of the offset line at 1 GHz, one way, dB, 0 or more; rises with √f
 * @param c0 farad for an open, henry for a short
 * @param c1 the same per hertz
 * @param c2 the same per hertz squared
 * @param c3 the same per hertz cubed
 */
public record EndStandard(
    Kind kind,
    Delay offsetDelay,
    double offsetLossDbAt1Ghz,
    double c0,
    double c1,
    double c2,
    double c3) {

  /** What ends the offset line. */
  public enum Kind {
    SHORT,
    OPEN
  }

  public static final EndStandard IDEAL_SHORT = ideal(Kind.SHORT, Delay.ZERO);
  public static final EndStandard IDEAL_OPEN = ideal(Kind.OPEN, Delay.ZERO);

  /**
   * @throws InvalidQuantityException for a value that is not finite, or a negative loss
   */
  public EndStandard {
    Require.notNegative("offsetLossDb", offsetLossDbAt1Ghz);
    String letter = kind == Kind.OPEN ? "c" : "l";
    Require.finite(letter + "0", c0);
    Require.finite(letter + "1", c1);
    Require.finite(letter + "2", c2);
    Require.finite(letter + "3", c3);
  }

  /** A perfect short or open at the end of an offset line without loss. */
  public static EndStandard ideal(Kind kind, Delay offsetDelay) {
    return new EndStandard(kind, offsetDelay, 0, 0, 0, 0, 0);
  }

  /**
   * An open in the units in which calibration kits are customarily described.
   *
   * @param offsetDelayPs delay of the offset line, one way, ps
   * @param c0 10⁻¹⁵ F
   * @param c1 10⁻²⁷ F/Hz
   * @param c2 10⁻³⁶ F/Hz²
   * @param c3 10⁻⁴⁵ F/Hz³
   */
  public static EndStandard open(double offsetDelayPs, double c0, double c1, double c2, double c3) {
    return new EndStandard(
        Kind.OPEN, offset(offsetDelayPs), 0, c0 * 1e-15, c1 * 1e-27, c2 * 1e-36, c3 * 1e-45);
  }

  /**
   * A short in the units in which calibration kits are customarily described.
   *
   * @param offsetDelayPs delay of the offset line, one way, ps
   * @param l0 10⁻¹² H
   * @param l1 10⁻²⁴ H/Hz
   * @param l2 10⁻³³ H/Hz²
   * @param l3 10⁻⁴² H/Hz³
   */
  public static EndStandard shorted(
      double offsetDelayPs, double l0, double l1, double l2, double l3) {
    return new EndStandard(
        Kind.SHORT, offset(offsetDelayPs), 0, l0 * 1e-12, l1 * 1e-24, l2 * 1e-33, l3 * 1e-42);
  }

  public EndStandard withOffsetLossDbAt1Ghz(double lossDb) {
    return new EndStandard(kind, offsetDelay, lossDb, c0, c1, c2, c3);
  }

  /** The ideal standard that a method means; an ideal open for transmission, where none is used. */
  public static EndStandard idealFor(Method method) {
    return method == Method.REFLECTION_SHORT ? IDEAL_SHORT : IDEAL_OPEN;
  }

  /**
   * Phase of Γ at the standard's plane, degrees, the offset passed twice: −720·f·τ − 2·atan(2π·f·C·
   * z0) for an open, 180 − 720·f·τ − 2·atan(2π·f·L/z0) for a short. One-way phase of an assembly =
   * (phase of Γ − this)/2.
   *
   * @param frequencyHz frequency, Hz, 0 or more
   * @param z0Ohm reference impedance, ohm, above 0
   */
  public double phaseDeg(double frequencyHz, double z0Ohm) {
    Require.notNegative("frequencyHz", frequencyHz);
    Require.positive("z0Ohm", z0Ohm);
    double element = c0 + frequencyHz * (c1 + frequencyHz * (c2 + frequencyHz * c3));
    double reactance = 2 * Math.PI * frequencyHz * element;
    double ratio = kind == Kind.OPEN ? reactance * z0Ohm : reactance / z0Ohm;
    double idealDeg = kind == Kind.OPEN ? 0 : 180;
    return idealDeg
        - 2 * Math.toDegrees(Math.atan(ratio))
        - 720 * frequencyHz * offsetDelay.seconds();
  }

  /** Loss of the offset line, one way, dB. */
  public double lossDb(double frequencyHz) {
    return offsetLossDbAt1Ghz * Math.sqrt(frequencyHz / 1e9);
  }

  private static Delay offset(double offsetDelayPs) {
    return Delay.ofPicoseconds(Require.finite("offsetDelayPs", offsetDelayPs));
  }
}
