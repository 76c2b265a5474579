package org.equiphase.metrology;

import java.util.List;
import java.util.function.Predicate;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.commons.statistics.distribution.TDistribution;
import org.equiphase.rf.Require;

/**
 * The contributions to the uncertainty of one reading, uncorrelated inputs of a linear model. All
 * results are in the unit of the reading. For correlated inputs see {@link Covariance}.
 *
 * @param contributions the lines; none means an uncertainty of 0
 */
public record UncertaintyBudget(List<Contribution> contributions) {

  /** k of the usual expanded uncertainty, about 95 % (JCGM 100:2008, 6.3.3). */
  public static final double USUAL_COVERAGE_FACTOR = 2;

  public UncertaintyBudget {
    contributions = List.copyOf(contributions);
  }

  /** Combined standard uncertainty, u_c = √(Σ c_i²·u_i²) (JCGM 100, equation 10). */
  public double standardUncertainty() {
    return rootSumOfSquares(c -> true);
  }

  /** The part that all readings of a set share. */
  public double commonStandardUncertainty() {
    return rootSumOfSquares(c -> c.sharing() == Sharing.COMMON);
  }

  /** The part that each reading has for itself. */
  public double independentStandardUncertainty() {
    return rootSumOfSquares(c -> c.sharing() == Sharing.INDEPENDENT);
  }

  /**
   * Effective degrees of freedom u_c⁴/Σ(u_i⁴/ν_i), the Welch–Satterthwaite formula (JCGM 100,
   * equation G.2b); infinite where all are, or the uncertainty is 0.
   */
  public double effectiveDegreesOfFreedom() {
    double combined = standardUncertainty();
    if (combined == 0) {
      return Double.POSITIVE_INFINITY;
    }
    double sum = 0;
    for (Contribution c : contributions) {
      sum += Math.pow(c.standardUncertainty() / combined, 4) / c.degreesOfFreedom();
    }
    return 1 / sum;
  }

  /** Expanded uncertainty U = 2·u_c. */
  public double expandedUncertainty() {
    return expandedUncertainty(USUAL_COVERAGE_FACTOR);
  }

  /**
   * Expanded uncertainty U = k·u_c.
   *
   * @param coverageFactor k, above 0
   */
  public double expandedUncertainty(double coverageFactor) {
    return Require.positive("coverageFactor", coverageFactor) * standardUncertainty();
  }

  /**
   * k of a two-sided interval that holds the true value with a given probability, from the t
   * distribution with the effective degrees of freedom cut to a whole number (JCGM 100, G.4.1).
   *
   * @param probability level of confidence, above 0 and below 1
   * @throws org.equiphase.rf.InvalidQuantityException for another probability
   */
  public double coverageFactor(double probability) {
    double tail = (1 - Require.fraction("probability", probability)) / 2;
    // The formula can come out a rounding step below a whole number.
    double degrees = Math.floor(effectiveDegreesOfFreedom() * (1 + 1e-12));
    return Double.isInfinite(degrees)
        ? NormalDistribution.of(0, 1).inverseSurvivalProbability(tail)
        : TDistribution.of(Math.max(1, degrees)).inverseSurvivalProbability(tail);
  }

  /**
   * Share of each contribution in the combined variance, percent, in their order; 0 where u_c = 0.
   */
  public List<Double> varianceSharePercent() {
    double combined = standardUncertainty();
    return contributions.stream()
        .map(
            c -> {
              double ratio = combined == 0 ? 0 : c.standardUncertainty() / combined;
              return 100 * ratio * ratio;
            })
        .toList();
  }

  /**
   * The budget of the difference of two readings of one set: independent contributions grow by √2,
   * common ones cancel and are left out. Degrees of freedom stay, since it is the same estimate
   * that stands for both readings.
   */
  public UncertaintyBudget ofDifference() {
    return new UncertaintyBudget(
        contributions.stream()
            .filter(c -> c.sharing() == Sharing.INDEPENDENT)
            .map(
                c ->
                    new Contribution(
                        c.name(),
                        c.value(),
                        c.distribution(),
                        c.sensitivity() * Math.sqrt(2),
                        c.degreesOfFreedom(),
                        c.sharing()))
            .toList());
  }

  private double rootSumOfSquares(Predicate<Contribution> which) {
    double sum = 0;
    for (Contribution c : contributions) {
      if (which.test(c)) {
        sum = Math.hypot(sum, c.standardUncertainty());
      }
    }
    return sum;
  }
}
