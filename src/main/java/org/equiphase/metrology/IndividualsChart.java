package org.equiphase.metrology;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import org.equiphase.rf.Require;

/**
 * Control chart of individual values and their moving ranges (NIST/SEMATECH e-Handbook, 6.3.2.2).
 * All values are in the unit of the readings.
 *
 * @param center mean of the baseline values
 * @param sigma their standard deviation as seen from one to the next, average moving range / 1.128
 * @param lowerLimit center − 3·sigma
 * @param upperLimit center + 3·sigma
 * @param averageMovingRange of the baseline values
 * @param movingRangeUpperLimit 3.267 times the average moving range
 * @param movingRanges |x_i − x_(i−1)|, one fewer than values
 * @param signals run-rule patterns among all values, in the order of their last point
 * @param movingRangesBeyond indices of values whose change from the one before exceeds the limit
 */
public record IndividualsChart(
    double center,
    double sigma,
    double lowerLimit,
    double upperLimit,
    double averageMovingRange,
    double movingRangeUpperLimit,
    List<Double> movingRanges,
    List<RunSignal> signals,
    List<Integer> movingRangesBeyond) {

  /** Mean range of two standard normal values, 2/√π, as the charts' tables print it. */
  public static final double D2_OF_TWO = 1.128;

  /** Upper limit of a range of two, as a multiple of the mean range, as the tables print it. */
  public static final double D4_OF_TWO = 3.267;

  /** A chart whose limits come from all of its values. */
  public static IndividualsChart of(double[] values) {
    return of(values, values.length);
  }

  /**
   * A chart whose limits come from its first values, taken while the process was known to be good.
   *
   * @param values in the order they were taken, within ±1e100
   * @param baselineCount how many of them set the limits, 2 or more
   * @throws org.equiphase.rf.InvalidQuantityException for {@code values} or {@code baselineCount}
   *     that breaks these rules
   */
  public static IndividualsChart of(double[] values, int baselineCount) {
    if (values.length < 2) {
      throw Require.refuse("values", "must hold two or more, not " + values.length);
    }
    Require.count("baselineCount", baselineCount, 2, values.length);
    double[] ranges = movingRanges(values);
    double center = DoubleStream.of(values).limit(baselineCount).average().orElseThrow();
    double averageRange = DoubleStream.of(ranges).limit(baselineCount - 1).average().orElseThrow();
    return of(values, center, averageRange / D2_OF_TWO);
  }

  /**
   * A chart whose limits were set before its values were taken.
   *
   * @param values in the order they were taken, within ±1e100
   * @param center what the process should give
   * @param sigma its standard deviation as seen from one value to the next, 0 or more
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static IndividualsChart of(double[] values, double center, double sigma) {
    Require.moderate("center", center);
    Require.notNegative("sigma", sigma);
    double[] ranges = movingRanges(values);
    double averageRange = sigma * D2_OF_TWO;
    double rangeLimit = D4_OF_TWO * averageRange;
    List<Integer> beyond = new ArrayList<>();
    for (int i = 1; i < values.length; i++) {
      if (ranges[i - 1] > rangeLimit) {
        beyond.add(i);
      }
    }
    return new IndividualsChart(
        center,
        sigma,
        center - 3 * sigma,
        center + 3 * sigma,
        averageRange,
        rangeLimit,
        DoubleStream.of(ranges).boxed().toList(),
        signals(values, center, sigma),
        List.copyOf(beyond));
  }

  private static double[] movingRanges(double[] values) {
    double[] ranges = new double[Math.max(0, values.length - 1)];
    for (int i = 0; i < values.length; i++) {
      Require.moderate("values[" + i + "]", values[i]);
      if (i > 0) {
        ranges[i - 1] = Math.abs(values[i] - values[i - 1]);
      }
    }
    return ranges;
  }

  /**
   * Patterns among values, in the order of the point that completes them.
   *
   * @param values in the order they were taken
   * @param center line that the zones are counted from
   * @param sigma width of a zone, 0 or more
   */
  public static List<RunSignal> signals(double[] values, double center, double sigma) {
    Require.finite("center", center);
    Require.notNegative("sigma", sigma);
    List<RunSignal> signals = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      for (RunRule rule : RunRule.values()) {
        for (int side = 1; side >= -1; side -= 2) {
          if (rule.completedAt(i, values, center, sigma, side)) {
            signals.add(new RunSignal(i, rule, side > 0));
          }
        }
      }
    }
    return List.copyOf(signals);
  }
}
