package org.equiphase.metrology;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.rf.Require;

/**
 * Control charts that remember: they see a small lasting shift sooner than {@link
 * IndividualsChart}. All values are in the unit of the readings.
 */
public final class SmallShiftChart {
  private SmallShiftChart() {}

  /**
   * Exponentially weighted moving averages.
   *
   * @param averages one per value
   * @param lowerLimit target − 3·sigma·√(λ/(2 − λ))
   * @param upperLimit target + the same
   * @param beyond indices of averages outside the limits
   */
  public record Ewma(
      List<Double> averages, double lowerLimit, double upperLimit, List<Integer> beyond) {}

  /**
   * Cumulative sums.
   *
   * @param high sum of what lies above target + slack, never below 0
   * @param low sum of what lies below target − slack, never below 0
   * @param beyond indices where either sum exceeds the decision limit
   */
  public record Cusum(List<Double> high, List<Double> low, List<Integer> beyond) {}

  /**
   * EWMA_i = λ·x_i + (1 − λ)·EWMA_(i−1), starting at the target (NIST/SEMATECH e-Handbook,
   * 6.3.2.4), with the limits that hold after many values.
   *
   * @param values in the order they were taken, within ±1e100
   * @param target what the process should give
   * @param sigma standard deviation of single values, 0 or more
   * @param weight λ, above 0 and at most 1; 0.2 to 0.3 is usual
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static Ewma ewma(double[] values, double target, double sigma, double weight) {
    Require.moderate("target", target);
    Require.notNegative("sigma", sigma);
    Require.within("weight", Require.positive("weight", weight), 0, 1);
    double halfWidth = 3 * sigma * Math.sqrt(weight / (2 - weight));
    List<Double> averages = new ArrayList<>();
    List<Integer> beyond = new ArrayList<>();
    double average = target;
    for (int i = 0; i < values.length; i++) {
      Require.moderate("values[" + i + "]", values[i]);
      average += weight * (values[i] - average);
      averages.add(average);
      if (Math.abs(average - target) > halfWidth) {
        beyond.add(i);
      }
    }
    return new Ewma(
        List.copyOf(averages), target - halfWidth, target + halfWidth, List.copyOf(beyond));
  }

  /**
   * Tabular cumulative sums, S_hi(i) = max(0, S_hi(i−1) + x_i − target − slack) and the mirror
   * image below (NIST/SEMATECH e-Handbook, 6.3.2.3).
   *
   * @param values in the order they were taken, within ±1e100
   * @param target what the process should give
   * @param slack k, mostly half the shift to be seen, 0 or more
   * @param decisionLimit h, 0 or more
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static Cusum cusum(double[] values, double target, double slack, double decisionLimit) {
    Require.moderate("target", target);
    Require.notNegative("slack", slack);
    Require.notNegative("decisionLimit", decisionLimit);
    List<Double> highs = new ArrayList<>();
    List<Double> lows = new ArrayList<>();
    List<Integer> beyond = new ArrayList<>();
    double high = 0;
    double low = 0;
    for (int i = 0; i < values.length; i++) {
      Require.moderate("values[" + i + "]", values[i]);
      high = Math.max(0, high + values[i] - target - slack);
      low = Math.max(0, low + target - slack - values[i]);
      highs.add(high);
      lows.add(low);
      if (Math.max(high, low) > decisionLimit) {
        beyond.add(i);
      }
    }
    return new Cusum(List.copyOf(highs), List.copyOf(lows), List.copyOf(beyond));
  }
}
