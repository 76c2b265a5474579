package org.equiphase.metrology;

import org.apache.commons.numbers.gamma.ErfDifference;
import org.apache.commons.numbers.gamma.Erfc;

/**
 * Probabilities of the normal distribution, with full relative accuracy far into the tails, where
 * one minus a distribution function would give 0. Limits may be infinite.
 */
public final class Normal {
  private static final double ROOT_2 = Math.sqrt(2);

  private Normal() {}

  /**
   * Probability that a normal quantity lies from {@code lower} to {@code upper}, limits included:
   * ½·(erf((upper − μ)/(σ√2)) − erf((lower − μ)/(σ√2))). 0 where the limits cross. With σ = 0 it is
   * 1 or 0. JCGM 106:2012, 7.2 to 7.4.
   *
   * @param mean μ, finite
   * @param standardDeviation σ, in the unit of the mean, 0 or more, finite
   * @param lower lower limit, −∞ for none
   * @param upper upper limit, +∞ for none
   */
  public static double inside(double mean, double standardDeviation, double lower, double upper) {
    if (!(lower <= upper)) {
      return 0;
    }
    if (standardDeviation == 0) {
      return lower <= mean && mean <= upper ? 1 : 0;
    }
    double from = (lower - mean) / standardDeviation / ROOT_2;
    double to = (upper - mean) / standardDeviation / ROOT_2;
    if (from == Double.NEGATIVE_INFINITY) {
      return Erfc.value(-to) / 2;
    }
    if (to == Double.POSITIVE_INFINITY) {
      return Erfc.value(from) / 2;
    }
    return ErfDifference.value(from, to) / 2;
  }

  /**
   * Probability that a normal quantity lies outside the limits, the complement of {@link #inside}
   * without its rounding.
   */
  public static double outside(double mean, double standardDeviation, double lower, double upper) {
    if (!(lower <= upper)) {
      return 1;
    }
    if (standardDeviation == 0) {
      return 1 - inside(mean, 0, lower, upper);
    }
    double below = Erfc.value((mean - lower) / standardDeviation / ROOT_2) / 2;
    double above = Erfc.value((upper - mean) / standardDeviation / ROOT_2) / 2;
    return Math.min(1, below + above);
  }
}
