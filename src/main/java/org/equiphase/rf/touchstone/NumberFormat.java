package org.equiphase.rf.touchstone;

import org.equiphase.rf.Complex;

/** How a file writes complex numbers as pairs. */
public enum NumberFormat {
  /** 20·log10 of the magnitude, and the angle in degrees. */
  DB,
  /** Magnitude, and the angle in degrees. */
  MA,
  /** Real and imaginary part. */
  RI;

  /** Stands for the logarithm of zero in a written file; reads back as 10⁻³⁰. */
  static final double ZERO_DB = -600;

  /** exp of this is 10^(1/20), and quicker than a power of ten. */
  private static final double NEPER_PER_DB = Math.log(10) / 20;

  Complex decode(double first, double second) {
    return switch (this) {
      case RI -> new Complex(first, second);
      case MA -> Complex.ofPolarDeg(first, second);
      case DB -> Complex.ofPolarDeg(Math.exp(first * NEPER_PER_DB), second);
    };
  }

  double firstOf(Complex value) {
    return switch (this) {
      case RI -> value.re();
      case MA -> value.abs();
      case DB -> value.abs() == 0 ? ZERO_DB : 20 * Math.log10(value.abs());
    };
  }

  double secondOf(Complex value) {
    return this == RI ? value.im() : value.argumentDeg();
  }
}
