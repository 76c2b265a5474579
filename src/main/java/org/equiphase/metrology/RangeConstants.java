package org.equiphase.metrology;

import org.apache.commons.numbers.gamma.Erfc;
import org.equiphase.rf.Require;

/**
 * What the range of normal values is on average: the constants of control charts and range methods,
 * integrated here instead of tabled.
 *
 * @param size how many values the range is taken over, 2 or more
 * @param d2 mean range, in standard deviations
 * @param d3 standard deviation of the range, in standard deviations
 */
public record RangeConstants(int size, double d2, double d3) {

  private static final double STEP = 0.05;

  /** Beyond this a standard normal value lies with a probability of 1e-19. */
  private static final int REACH = 180;

  private static final double[] BELOW = new double[4 * REACH + 1];

  static {
    for (int i = 0; i < BELOW.length; i++) {
      BELOW[i] = Erfc.value(-(i - REACH) * STEP / Math.sqrt(2)) / 2;
    }
  }

  /**
   * The constants, to 1e-7: moments of the range's distribution P(R ≤ r) = n·∫ φ(x)·(Φ(x + r) −
   * Φ(x))^(n−1) dx (Tippett 1925; tables as in ASTM E2587).
   *
   * @param size 2 to 1000
   * @throws org.equiphase.rf.InvalidQuantityException for another {@code size}
   */
  public static RangeConstants of(int size) {
    Require.count("size", size, 2, 1000);
    double mean = 0;
    double square = 0;
    for (int r = 0; r <= 2 * REACH; r++) {
      // Simpson's rule over the range r; the trapezoid one is exact enough for whole bells.
      double weight = (r == 0 || r == 2 * REACH ? 1 : r % 2 == 1 ? 4 : 2) * STEP / 3;
      double exceeded = 1 - probabilityUpTo(r, size);
      mean += weight * exceeded;
      square += weight * 2 * r * STEP * exceeded;
    }
    return new RangeConstants(size, mean, Math.sqrt(square - mean * mean));
  }

  /** Upper limit of a range chart as a multiple of the mean range, 1 + 3·d3/d2. */
  public double upperLimitFactor() {
    return 1 + 3 * d3 / d2;
  }

  /** d2* for one single range, √(d2² + d3²): what gauge studies divide it by. */
  public double d2Star() {
    return Math.hypot(d2, d3);
  }

  private static double probabilityUpTo(int r, int size) {
    double sum = 0;
    for (int i = 0; i <= 2 * REACH; i++) {
      double x = (i - REACH) * STEP;
      double density = Math.exp(-x * x / 2) / Math.sqrt(2 * Math.PI);
      sum += density * Math.pow(BELOW[i + r] - BELOW[i], size - 1.0);
    }
    return size * STEP * sum;
  }
}
