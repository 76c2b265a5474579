package org.equiphase.rf;

/**
 * Adapters between the plane to which the analyzer was calibrated and the assembly: what they add
 * one way, to be taken off the reading.
 *
 * @param delay their delay; negative where calibration already took off too much
 * @param lossDbAt1Ghz their loss at 1 GHz, dB, 0 or more; it rises with √f (skin effect)
 */
public record ReferencePlane(Delay delay, double lossDbAt1Ghz) {
  /** The plane of calibration itself. */
  public static final ReferencePlane CALIBRATED = new ReferencePlane(Delay.ZERO, 0);

  public ReferencePlane {
    Require.notNegative("adapterLossDb", lossDbAt1Ghz);
  }

  public static ReferencePlane ofPicoseconds(double delayPs, double lossDbAt1Ghz) {
    return new ReferencePlane(
        Delay.ofPicoseconds(Require.finite("adapterDelayPs", delayPs)), lossDbAt1Ghz);
  }

  /** Phase that the adapters add one way, −360·f·τ, degrees. */
  public double phaseDeg(double frequencyHz) {
    return -360 * frequencyHz * delay.seconds();
  }

  /** Loss that the adapters add one way, dB. */
  public double lossDb(double frequencyHz) {
    return lossDbAt1Ghz * Math.sqrt(frequencyHz / 1e9);
  }
}
