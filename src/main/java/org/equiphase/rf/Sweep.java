package org.equiphase.rf;

import org.jspecify.annotations.Nullable;

/**
 * A measured sweep: one complex parameter over ascending frequencies, with S11 beside it where it
 * is known. Errors name the field {@code file}, since sweeps come in as files.
 */
public final class Sweep {
  static final String FIELD = "file";

  private static final double HIGHEST_HZ = 1e12;
  private static final double USUAL_REFERENCE_OHM = 50;

  private final double[] frequencyHz;
  private final double[] re;
  private final double[] im;
  private final double @Nullable [] s11Magnitude;
  private final double referenceOhm;

  private Sweep(
      double[] frequencyHz,
      double[] re,
      double[] im,
      double @Nullable [] s11Magnitude,
      double referenceOhm) {
    this.frequencyHz = frequencyHz;
    this.re = re;
    this.im = im;
    this.s11Magnitude = s11Magnitude;
    this.referenceOhm = referenceOhm;
  }

  /**
   * A sweep in 50 Ω without S11 beside it.
   *
   * @param frequencyHz frequencies, Hz, strictly ascending, from 0 Hz to 1 THz
   * @param re real parts of the measured parameter, finite
   * @param im imaginary parts, finite
   * @throws InvalidQuantityException for {@code file} where these rules are broken
   */
  public static Sweep of(double[] frequencyHz, double[] re, double[] im) {
    requireSameLength(frequencyHz, re, im);
    if (frequencyHz.length == 0) {
      throw new InvalidQuantityException(FIELD, "the sweep has no points");
    }
    for (int i = 0; i < frequencyHz.length; i++) {
      double hertz = frequencyHz[i];
      if (!(hertz >= 0 && hertz <= HIGHEST_HZ)) {
        throw new InvalidQuantityException(
            FIELD, "frequencies of a sweep must lie from 0 Hz to 1 THz, not at " + hertz + " Hz");
      }
      if (i > 0 && hertz <= frequencyHz[i - 1]) {
        throw new InvalidQuantityException(
            FIELD,
            "frequencies of a sweep must ascend, but "
                + hertz
                + " Hz follows "
                + frequencyHz[i - 1]
                + " Hz");
      }
      requireFinite(hertz, re[i], im[i]);
    }
    return new Sweep(frequencyHz.clone(), re.clone(), im.clone(), null, USUAL_REFERENCE_OHM);
  }

  /** The sweep with S11 beside it, point by point, for the VSWR. */
  public Sweep withS11(double[] s11Re, double[] s11Im) {
    requireSameLength(frequencyHz, s11Re, s11Im);
    double[] magnitude = new double[points()];
    for (int i = 0; i < magnitude.length; i++) {
      requireFinite(frequencyHz[i], s11Re[i], s11Im[i]);
      magnitude[i] = Math.hypot(s11Re[i], s11Im[i]);
    }
    return new Sweep(frequencyHz, re, im, magnitude, referenceOhm);
  }

  /**
   * The sweep with another reference impedance.
   *
   * @param ohm reference impedance, ohm, above 0
   */
  public Sweep withReferenceOhm(double ohm) {
    return new Sweep(frequencyHz, re, im, s11Magnitude, Require.positive("referenceOhm", ohm));
  }

  public int points() {
    return frequencyHz.length;
  }

  public double startHz() {
    return frequencyHz[0];
  }

  public double stopHz() {
    return frequencyHz[points() - 1];
  }

  public double referenceOhm() {
    return referenceOhm;
  }

  public double frequencyHz(int point) {
    return frequencyHz[point];
  }

  /** The measured parameter at a point. */
  public Complex value(int point) {
    return new Complex(re[point], im[point]);
  }

  public double[] frequenciesHz() {
    return frequencyHz.clone();
  }

  double magnitude(int point) {
    return Math.hypot(re[point], im[point]);
  }

  double phaseDeg(int point) {
    return Complex.argumentDeg(re[point], im[point]);
  }

  /** Magnitudes of S11, or null where they are not known. */
  double @Nullable [] s11Magnitudes() {
    return s11Magnitude;
  }

  private static void requireFinite(double hertz, double re, double im) {
    if (!Double.isFinite(re) || !Double.isFinite(im)) {
      throw new InvalidQuantityException(
          FIELD, "the value at " + hertz + " Hz is not a finite number");
    }
  }

  private static void requireSameLength(double[] frequencyHz, double[] re, double[] im) {
    if (re.length != frequencyHz.length || im.length != frequencyHz.length) {
      throw new InvalidQuantityException(
          FIELD,
          "the sweep has "
              + frequencyHz.length
              + " frequencies but "
              + re.length
              + " real and "
              + im.length
              + " imaginary parts");
    }
  }
}
