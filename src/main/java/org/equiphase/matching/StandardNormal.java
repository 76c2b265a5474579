package org.equiphase.matching;

import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * The standard normal distribution, many times per planned cut: from a table, by Taylor's series
 * about its nearest entry. Φ is good to 1e-12.
 */
final class StandardNormal {

  /** Beyond this, Φ is 0 or 1 to within 1e-16. */
  static final double FAR = 8.25;

  private static final int PER_UNIT = 64;
  private static final int ENTRIES = (int) (2 * FAR * PER_UNIT) + 1;
  private static final double[] CDF = new double[ENTRIES];
  private static final double[] DENSITY = new double[ENTRIES];

  static {
    for (int i = 0; i < ENTRIES; i++) {
      double x = -FAR + (double) i / PER_UNIT;
      CDF[i] = exact().cumulativeProbability(x);
      DENSITY[i] = exact().density(x);
    }
  }

  private StandardNormal() {}

  private static NormalDistribution exact() {
    return NormalDistribution.of(0, 1);
  }

  /** Φ(x). */
  static double cdf(double x) {
    if (!(x > -FAR)) {
      return 0;
    }
    if (x >= FAR) {
      return 1;
    }
    int i = (int) ((x + FAR) * PER_UNIT + 0.5);
    double at = -FAR + (double) i / PER_UNIT;
    double t = x - at;
    double square = at * at;
    double series = 1 - t / 2 * (at - t / 3 * ((square - 1) - t / 4 * at * (square - 3)));
    return CDF[i] + DENSITY[i] * t * series;
  }

  /** The density φ(x), good to 1e-9. */
  static double density(double x) {
    if (!(Math.abs(x) < FAR)) {
      return 0;
    }
    int i = (int) ((x + FAR) * PER_UNIT + 0.5);
    double at = -FAR + (double) i / PER_UNIT;
    double t = x - at;
    double square = at * at;
    double series = 1 - t * (at - t / 2 * ((square - 1) - t / 3 * at * (square - 3)));
    return DENSITY[i] * series;
  }

  /** The x at which Φ(x) is the probability. */
  static double quantile(double probability) {
    return exact().inverseCumulativeProbability(probability);
  }
}
