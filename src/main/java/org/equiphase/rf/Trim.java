package org.equiphase.rf;

/**
 * The cut that takes a phase error away. Positive: that much is to come off; negative: the cable is
 * short by that much, and no cut can help.
 *
 * @param trim length of cable to remove
 * @param delay the delay it takes away, of one pass
 * @param degreesPerMm phase that one millimetre of cable turns, in the quantity of the error: twice
 *     as much in reflection
 */
public record Trim(Length trim, Delay delay, double degreesPerMm) {

  /**
   * Trim for a phase error: −e·v·c/(360·f·passes).
   *
   * @param phaseErrorDeg phase minus target, degrees, finite; that of the reflection phase if
   *     passes is 2
   * @param passes 1 in transmission, 2 in reflection
   * @throws InvalidQuantityException for a value out of range
   */
  public static Trim forPhaseError(
      Frequency frequency, VelocityFactor velocityFactor, double phaseErrorDeg, int passes) {
    Require.finite("phaseErrorDeg", phaseErrorDeg);
    double degreesPerMetre = velocityFactor.degreesPerMetre(frequency) * Require.passes(passes);
    double trimM =
        Require.finiteResult("phaseErrorDeg", phaseErrorDeg, 0.0 - phaseErrorDeg / degreesPerMetre);
    Length trim = Length.ofMetres(trimM);
    return new Trim(trim, trim.delayAt(velocityFactor), degreesPerMetre / 1e3);
  }

  /**
   * Phase that a cut adds, degrees: +360·f·d·passes/(v·c); inverse of {@link #forPhaseError}.
   *
   * @param trim length removed; negative for length added
   * @param passes 1 in transmission, 2 in reflection
   */
  public static double phaseShiftDeg(
      Length trim, Frequency frequency, VelocityFactor velocityFactor, int passes) {
    double degreesPerMetre = velocityFactor.degreesPerMetre(frequency) * Require.passes(passes);
    return Require.finiteResult("trimM", trim.metres(), trim.metres() * degreesPerMetre);
  }

  public double trimMm() {
    return trim.inMillimetres();
  }

  public double trimIn() {
    return trim.inInches();
  }

  /** Electrical length that the cut takes away, c·τ, mm. */
  public double electricalLengthMm() {
    return delay.electricalLength().inMillimetres();
  }

  public double delayPs() {
    return delay.inPicoseconds();
  }
}
