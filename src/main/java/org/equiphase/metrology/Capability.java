package org.equiphase.metrology;

import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.equiphase.rf.Require;
import org.jspecify.annotations.Nullable;

/**
 * Capability indices of a process against its specification limits (NIST/SEMATECH e-Handbook,
 * 6.1.6). They say something only of a process in control whose values are near normal.
 *
 * @param cp (USL − LSL)/6s; null with one limit only
 * @param cpu (USL − mean)/3s; null without an upper limit
 * @param cpl (mean − LSL)/3s; null without a lower limit
 * @param cpk the smaller of the two
 * @param cpm (USL − LSL)/(6·√(s² + (mean − target)²)); null with one limit only
 */
public record Capability(
    @Nullable Index cp, @Nullable Index cpu, @Nullable Index cpl, Index cpk, @Nullable Double cpm) {

  /**
   * An index and the bounds that hold its true value with the confidence asked for.
   *
   * @param value estimate from the sample
   * @param lower lower bound
   * @param upper upper bound
   */
  public record Index(double value, double lower, double upper) {}

  /**
   * Indices from a sample's mean and standard deviation.
   *
   * <p>Bounds of cp: cp·√(χ²/(n − 1)) with the chi-squared quantiles at (1 ∓ confidence)/2, n − 1
   * degrees of freedom, exact for a normal process. Bounds of cpu, cpl and cpk: index ± z·√(1/(9n)
   * + index²/(2(n − 1))), a normal approximation (Bissell, Applied Statistics 39 (1990) 331), good
   * from about 25 values.
   *
   * @param mean of the sample, within ±1e100 as are limits and target
   * @param standardDeviation s, divisor n − 1, above 0
   * @param count n, 2 to 1e9
   * @param lower LSL, or null; at least one limit must be given
   * @param upper USL, or null; above {@code lower}
   * @param target of cpm; the middle of the limits where null
   * @param confidence of the two-sided bounds, above 0 and below 1
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static Capability of(
      double mean,
      double standardDeviation,
      int count,
      @Nullable Double lower,
      @Nullable Double upper,
      @Nullable Double target,
      double confidence) {
    Require.moderate("mean", mean);
    Require.positive("standardDeviation", standardDeviation);
    Require.count("count", count, 2, 1_000_000_000);
    Require.fraction("confidence", confidence);
    double low = lower == null ? Double.NEGATIVE_INFINITY : Require.moderate("lower", lower);
    double high = upper == null ? Double.POSITIVE_INFINITY : Require.moderate("upper", upper);
    if (lower == null && upper == null) {
      throw Require.refuse("lower", "and upper are both missing; give at least one limit");
    }
    if (low >= high) {
      throw Require.refuse("lower", "must lie below upper: " + low + " and " + high);
    }
    double aim = target == null ? low + (high - low) / 2 : Require.moderate("target", target);
    boolean both = lower != null && upper != null;
    double cpu = (high - mean) / (3 * standardDeviation);
    double cpl = (mean - low) / (3 * standardDeviation);
    return new Capability(
        both ? width((high - low) / (6 * standardDeviation), count, confidence) : null,
        upper == null ? null : side(cpu, count, confidence),
        lower == null ? null : side(cpl, count, confidence),
        side(Math.min(cpu, cpl), count, confidence),
        both ? (high - low) / (6 * Math.hypot(standardDeviation, mean - aim)) : null);
  }

  /** Indices from a sample. See {@link #of}. */
  public static Capability ofValues(
      double[] values,
      @Nullable Double lower,
      @Nullable Double upper,
      @Nullable Double target,
      double confidence) {
    if (values.length < 2) {
      throw Require.refuse("values", "must hold two or more, not " + values.length);
    }
    double sum = 0;
    for (int i = 0; i < values.length; i++) {
      sum += Require.moderate("values[" + i + "]", values[i]);
    }
    double mean = sum / values.length;
    double squares = 0;
    for (double value : values) {
      squares += (value - mean) * (value - mean);
    }
    if (squares == 0) {
      throw Require.refuse("values", "must differ; equal values have no spread to compare");
    }
    double deviation = Math.sqrt(squares / (values.length - 1));
    return of(mean, deviation, values.length, lower, upper, target, confidence);
  }

  private static Index width(double cp, int count, double confidence) {
    double degrees = count - 1.0;
    ChiSquaredDistribution chiSquared = ChiSquaredDistribution.of(degrees);
    double tail = (1 - confidence) / 2;
    return new Index(
        cp,
        cp * Math.sqrt(chiSquared.inverseCumulativeProbability(tail) / degrees),
        cp * Math.sqrt(chiSquared.inverseSurvivalProbability(tail) / degrees));
  }

  private static Index side(double index, int count, double confidence) {
    double z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - confidence) / 2);
    double margin = z * Math.sqrt(1 / (9.0 * count) + index * index / (2.0 * (count - 1)));
    Require.finiteResult("standardDeviation", margin);
    return new Index(index, index - margin, index + margin);
  }
}
