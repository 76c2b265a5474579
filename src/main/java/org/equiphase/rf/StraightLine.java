package org.equiphase.rf;

/**
 * Least-squares straight line y = value at 0 + slope·x.
 *
 * @param slope slope
 * @param meanX mean of x
 * @param meanY mean of y, the line's value at the mean of x
 */
record StraightLine(double slope, double meanX, double meanY) {

  /** The line through at least two points with x that differ. */
  static StraightLine through(double[] x, double[] y) {
    double meanX = mean(x);
    double meanY = mean(y);
    double sumXy = 0;
    double sumXx = 0;
    for (int i = 0; i < x.length; i++) {
      sumXy += (x[i] - meanX) * (y[i] - meanY);
      sumXx += (x[i] - meanX) * (x[i] - meanX);
    }
    return new StraightLine(sumXy / sumXx, meanX, meanY);
  }

  double at(double x) {
    return meanY + slope * (x - meanX);
  }

  double rmsResidual(double[] x, double[] y) {
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      double residual = y[i] - at(x[i]);
      sum += residual * residual;
    }
    return Math.sqrt(sum / x.length);
  }

  double largestResidual(double[] x, double[] y) {
    double largest = 0;
    for (int i = 0; i < x.length; i++) {
      largest = Math.max(largest, Math.abs(y[i] - at(x[i])));
    }
    return largest;
  }

  private static double mean(double[] values) {
    double sum = 0;
    for (double value : values) {
      sum += value;
    }
    return sum / values.length;
  }
}
