package org.equiphase.rf;

/** Sweeps of ideal cables, computed here from the definition of insertion phase and loss. */
final class SyntheticSweep {
  private SyntheticSweep() {}

  static double[] even(double startHz, double stopHz, int points) {
    double[] frequencyHz = new double[points];
    for (int i = 0; i < points; i++) {
      frequencyHz[i] = startHz + (stopHz - startHz) * i / (points - 1);
    }
    return frequencyHz;
  }

  /**
   * One pass of a cable with a constant phase and its loss.
   *
   * @param skinDb loss at 1 GHz, dB, rising with √f
   */
  static Sweep of(double[] frequencyHz, double delayS, double constantDeg, double skinDb) {
    return ofPasses(frequencyHz, 1, delayS, constantDeg, skinDb);
  }

  static Sweep ofPasses(
      double[] frequencyHz, int passes, double delayS, double constantDeg, double skinDb) {
    double[] re = new double[frequencyHz.length];
    double[] im = new double[frequencyHz.length];
    for (int i = 0; i < re.length; i++) {
      double lossDb = skinDb * Math.sqrt(frequencyHz[i] / 1e9);
      Complex value =
          Complex.ofPolarDeg(
              Math.pow(10, -passes * lossDb / 20),
              constantDeg - passes * 360 * frequencyHz[i] * delayS);
      re[i] = value.re();
      im[i] = value.im();
    }
    return Sweep.of(frequencyHz, re, im);
  }
}
