package org.equiphase.array;

/**
 * Where the elements of a line stand, and how its array factor AF(u) = Σ W_n·exp(j·2π·x_n·u) is
 * computed for complex weights W_n (amplitude, error and steering in one). u is the sine of the
 * angle from broadside.
 */
interface Layout {
  /** Points of the grid per 1/aperture, the distance of neighbouring nulls of a uniform line. */
  int POINTS_PER_LOBE = 16;

  /** |AF|² and its first and second derivative with respect to u. */
  record Value(double power, double slope, double curvature) {

    /** From Σ W·z, Σ x·W·z and Σ x²·W·z, z the phasor of each element. */
    static Value ofSums(double re, double im, double re1, double im1, double re2, double im2) {
      double k = 2 * Math.PI;
      return new Value(
          re * re + im * im,
          2 * k * (im * re1 - re * im1),
          2 * k * k * (re1 * re1 + im1 * im1 - re * re2 - im * im2));
    }
  }

  /** Position of an element, wavelengths. */
  double position(int n);

  /** Ascending values of u, from −1 to 1 with both, fine enough to show every lobe. */
  double[] grid();

  /** |AF|² on the grid. */
  double[] gridPower(double[] re, double[] im);

  /** Number of multiplications that the grid takes, more or less. */
  double terms();

  Value at(double u, double[] re, double[] im);
}
