package org.equiphase.metrology;

import java.util.Arrays;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.equiphase.rf.Require;

/**
 * Whether a sample looks normal, by the test of Anderson and Darling with mean and standard
 * deviation taken from the sample.
 *
 * @param statistic A²
 * @param adjusted A²·(1 + 0.75/n + 2.25/n²)
 * @param looksNormal whether {@code adjusted} is at most {@link #LIMIT}
 */
public record NormalityCheck(double statistic, double adjusted, boolean looksNormal) {

  /** Exceeded by one normal sample in twenty (Stephens 1986, table 4.7). */
  public static final double LIMIT = 0.752;

  /** With fewer values next to nothing can be told. */
  public static final int LEAST = 8;

  /**
   * A² = −n − Σ (2i − 1)/n·(ln Φ(z_i) + ln(1 − Φ(z_(n+1−i)))), z the values in ascending order less
   * their mean, over their standard deviation (NIST/SEMATECH e-Handbook, 1.3.5.14); adjustment and
   * limit by M. A. Stephens in D'Agostino and Stephens, Goodness-of-Fit Techniques (1986), 4.8.
   *
   * @param values {@link #LEAST} or more, within ±1e100, not all equal
   * @throws org.equiphase.rf.InvalidQuantityException for {@code values} that breaks these rules
   */
  public static NormalityCheck of(double[] values) {
    int n = values.length;
    if (n < LEAST) {
      throw Require.refuse("values", "must hold " + LEAST + " or more, not " + n);
    }
    double sum = 0;
    for (int i = 0; i < n; i++) {
      sum += Require.moderate("values[" + i + "]", values[i]);
    }
    double mean = sum / n;
    double squares = 0;
    for (double value : values) {
      squares += (value - mean) * (value - mean);
    }
    if (squares == 0) {
      throw Require.refuse("values", "must differ; equal values have no shape");
    }
    NormalDistribution normal = NormalDistribution.of(mean, Math.sqrt(squares / (n - 1)));
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double total = 0;
    for (int i = 0; i < n; i++) {
      total +=
          (2 * i + 1.0)
              / n
              * (log(normal.cumulativeProbability(sorted[i]))
                  + log(normal.survivalProbability(sorted[n - 1 - i])));
    }
    double statistic = -n - total;
    double adjusted = statistic * (1 + 0.75 / n + 2.25 / n / n);
    return new NormalityCheck(statistic, adjusted, adjusted <= LIMIT);
  }

  private static double log(double probability) {
    return Math.log(Math.max(probability, Double.MIN_NORMAL));
  }
}
