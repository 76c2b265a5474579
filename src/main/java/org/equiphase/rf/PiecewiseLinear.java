package org.equiphase.rf;

import java.util.Arrays;

/** A table with ascending x, linear between its points, with no value outside. */
final class PiecewiseLinear {
  private final double[] x;
  private final double[] y;

  PiecewiseLinear(String field, double[] x, double[] y) {
    if (x.length != y.length || x.length < 2) {
      throw new InvalidQuantityException(
          field,
          field
              + " needs two columns of equal length with at least two rows, not "
              + x.length
              + " and "
              + y.length);
    }
    for (int i = 0; i < x.length; i++) {
      Require.finite(field, x[i]);
      Require.finite(field, y[i]);
      if (i > 0 && x[i] <= x[i - 1]) {
        throw new InvalidQuantityException(
            field, field + " must ascend strictly, but " + x[i] + " follows " + x[i - 1]);
      }
    }
    this.x = x.clone();
    this.y = y.clone();
  }

  double first() {
    return x[0];
  }

  double last() {
    return x[x.length - 1];
  }

  boolean covers(double at) {
    return at >= first() && at <= last();
  }

  /** Value at a place that the table covers. */
  double valueAt(double at) {
    return interpolate(x, y, at);
  }

  /** +1 if y rises strictly, −1 if it falls strictly, 0 if it does neither. */
  int direction() {
    int rising = 0;
    for (int i = 1; i < y.length; i++) {
      rising += Integer.signum(Double.compare(y[i], y[i - 1]));
    }
    return Math.abs(rising) == y.length - 1 ? Integer.signum(rising) : 0;
  }

  /** The table read backwards; y must be strictly monotone. */
  PiecewiseLinear inverse(String field) {
    return direction() > 0
        ? new PiecewiseLinear(field, y, x)
        : new PiecewiseLinear(field, reversed(y), reversed(x));
  }

  double[] xs() {
    return x.clone();
  }

  double[] ys() {
    return y.clone();
  }

  /** Linear interpolation in ascending x at a place within it. */
  static double interpolate(double[] x, double[] y, double at) {
    int found = Arrays.binarySearch(x, at);
    if (found >= 0) {
      return y[found];
    }
    int right = Math.min(Math.max(-found - 1, 1), x.length - 1);
    double share = (at - x[right - 1]) / (x[right] - x[right - 1]);
    return y[right - 1] + share * (y[right] - y[right - 1]);
  }

  private static double[] reversed(double[] values) {
    double[] reversed = new double[values.length];
    for (int i = 0; i < values.length; i++) {
      reversed[i] = values[values.length - 1 - i];
    }
    return reversed;
  }
}
