package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;

/** The fast normal distribution functions against a library's and against closed forms. */
class NormalTablesTest {

  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  @Test
  void agreesWithTheLibrary() {
    SplittableRandom random = new SplittableRandom(1);
    for (int i = 0; i < 20_000; i++) {
      double x = -9 + 18 * random.nextDouble();
      assertThat(StandardNormal.cdf(x)).isCloseTo(NORMAL.cumulativeProbability(x), within(1e-12));
      assertThat(StandardNormal.density(x)).isCloseTo(NORMAL.density(x), within(1e-10));
    }
    assertThat(StandardNormal.cdf(Double.NEGATIVE_INFINITY)).isZero();
    assertThat(StandardNormal.cdf(Double.POSITIVE_INFINITY)).isEqualTo(1);
  }

  /**
   * P(X ≤ 0, Y ≤ 0) = 1/4 + asin ρ/(2π) (Sheppard 1899, in any text on the normal distribution).
   */
  @Test
  void bivariateAtTheOrigin() {
    for (double correlation = 0; correlation <= 0.75; correlation += 0.05) {
      assertThat(new BivariateNormal(correlation).cdf(0, 0))
          .isCloseTo(0.25 + Math.asin(correlation) / (2 * Math.PI), within(1e-9));
    }
  }

  /** The same as an average over X: ∫ φ(x)·Φ((k − ρx)/√(1 − ρ²)) dx up to h. */
  @Test
  void bivariateByIntegration() {
    SplittableRandom random = new SplittableRandom(2);
    for (int i = 0; i < 50; i++) {
      double rho = 0.75 * random.nextDouble();
      double h = -3 + 6 * random.nextDouble();
      double k = -3 + 6 * random.nextDouble();
      int steps = 20_000;
      double sum = 0;
      for (int j = 0; j < steps; j++) {
        double x = -8 + (h + 8) * (j + 0.5) / steps;
        sum +=
            NORMAL.density(x)
                * NORMAL.cumulativeProbability((k - rho * x) / Math.sqrt(1 - rho * rho));
      }
      assertThat(new BivariateNormal(rho).cdf(h, k)).isCloseTo(sum * (h + 8) / steps, within(1e-6));
    }
  }

  /** Gauss–Legendre of n nodes is exact for polynomials up to degree 2n − 1. */
  @Test
  void gaussLegendreIsExactForPolynomials() {
    for (int size : new int[] {2, 6, 10}) {
      GaussLegendre rule = new GaussLegendre(size);
      for (int degree = 0; degree < 2 * size; degree++) {
        double sum = 0;
        for (int i = 0; i < size; i++) {
          sum += rule.weight(i) * Math.pow(rule.node(i), degree);
        }
        assertThat(sum).isCloseTo(1.0 / (degree + 1), within(1e-14));
      }
    }
  }
}
