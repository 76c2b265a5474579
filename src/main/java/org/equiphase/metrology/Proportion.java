package org.equiphase.metrology;

import org.apache.commons.statistics.distribution.NormalDistribution;
import org.equiphase.rf.Require;

/**
 * A share seen in a sample, with the bounds that hold the true one.
 *
 * @param successes k
 * @param count n
 * @param share k/n
 * @param lower lower bound, 0 or more
 * @param upper upper bound, 1 or less
 */
public record Proportion(long successes, long count, double share, double lower, double upper) {

  /**
   * The score interval (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209): with z the normal
   * quantile at (1 + confidence)/2, (k + z²/2)/(n + z²) ± z/(n + z²)·√(k(n − k)/n + z²/4). It keeps
   * within 0 and 1, and holds for small samples and for shares near 0 or 1.
   *
   * @param successes 0 to {@code count}
   * @param count 1 to 1e9
   * @param confidence of the two-sided bounds, above 0 and below 1
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static Proportion of(long successes, long count, double confidence) {
    Require.within("count", count, 1, 1e9);
    Require.within("successes", successes, 0, count);
    Require.fraction("confidence", confidence);
    double z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - confidence) / 2);
    double n = count;
    double k = successes;
    double middle = (k + z * z / 2) / (n + z * z);
    double half = z / (n + z * z) * Math.sqrt(k * (n - k) / n + z * z / 4);
    return new Proportion(
        successes, count, k / n, Math.max(0, middle - half), Math.min(1, middle + half));
  }
}
