package org.equiphase.rf;

/**
 * A complex number.
 *
 * @param re real part
 * @param im imaginary part
 */
public record Complex(double re, double im) {
  public static final Complex ZERO = new Complex(0, 0);
  public static final Complex ONE = new Complex(1, 0);

  public static Complex of(double re, double im) {
    return new Complex(re, im);
  }

  /**
   * The number with this magnitude and argument.
   *
   * @param magnitude magnitude
   * @param degrees argument, degrees
   */
  public static Complex ofPolarDeg(double magnitude, double degrees) {
    // The turns come off first, so that many of them cost no accuracy; the remainder is slow.
    double within = Math.abs(degrees) <= 180 ? degrees : Math.IEEEremainder(degrees, 360);
    double radians = Math.toRadians(within);
    return new Complex(magnitude * Math.cos(radians), magnitude * Math.sin(radians));
  }

  public Complex plus(Complex other) {
    return new Complex(re + other.re, im + other.im);
  }

  public Complex minus(Complex other) {
    return new Complex(re - other.re, im - other.im);
  }

  public Complex times(Complex other) {
    return new Complex(re * other.re - im * other.im, re * other.im + im * other.re);
  }

  public Complex times(double factor) {
    return new Complex(re * factor, im * factor);
  }

  /** Quotient, scaled so that large or small divisors neither overflow nor vanish. */
  public Complex dividedBy(Complex divisor) {
    if (Math.abs(divisor.re) >= Math.abs(divisor.im)) {
      double ratio = divisor.im / divisor.re;
      double denominator = divisor.re + divisor.im * ratio;
      return new Complex((re + im * ratio) / denominator, (im - re * ratio) / denominator);
    }
    double ratio = divisor.re / divisor.im;
    double denominator = divisor.re * ratio + divisor.im;
    return new Complex((re * ratio + im) / denominator, (im * ratio - re) / denominator);
  }

  public double abs() {
    return Math.hypot(re, im);
  }

  /** Argument in (−180, +180], degrees; 0 for zero. */
  public double argumentDeg() {
    return argumentDeg(re, im);
  }

  static double argumentDeg(double re, double im) {
    double degrees = Math.toDegrees(Math.atan2(im, re));
    return degrees <= -180 ? 180 : degrees;
  }

  public boolean isFinite() {
    return Double.isFinite(re) && Double.isFinite(im);
  }
}
