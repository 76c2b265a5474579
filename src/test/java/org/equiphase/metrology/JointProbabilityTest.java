package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Validation of the joint probability of errors with a common part. */
class JointProbabilityTest {

  /**
   * n standard normals, each pair correlated by 1/2, are all positive with probability 1/(n + 1):
   * it is the chance that one of n + 1 independent equals is the smallest.
   */
  @ParameterizedTest
  @ValueSource(ints = {1, 2, 3, 5, 12})
  void allPositive(int n) {
    assertThat(positive(1, filled(n, 1), filled(n, 1))).isCloseTo(1.0 / (n + 1), within(1e-9));
  }

  /** Two normals of correlation ρ: 1/4 + asin(ρ)/2π (Sheppard 1899). Steps too, where ρ nears 1. */
  @ParameterizedTest
  @ValueSource(doubles = {3, 1, 0.1, 1e-3, 1e-6, 0})
  void bothPositive(double independent) {
    double[] sensitivity = {1, 2};
    double rho = 2 / Math.sqrt((1 + independent * independent) * (4 + independent * independent));
    assertThat(positive(1, sensitivity, filled(2, independent)))
        .isCloseTo(0.25 + Math.asin(Math.min(1, rho)) / (2 * Math.PI), within(1e-9));
    assertThat(positive(1, new double[] {1, -2}, filled(2, independent)))
        .isCloseTo(0.25 - Math.asin(Math.min(1, rho)) / (2 * Math.PI), within(1e-9));
  }

  @Test
  void withoutCommonPartIsTheProduct() {
    double[] mean = {0.3, -1};
    double[] independent = {0.5, 2};
    double product = Normal.inside(0.3, 0.5, -1, 1) * Normal.inside(-1, 2, -1, 1);
    assertThat(joint(mean, 0, new double[] {1, 1}, independent, 1)).isEqualTo(product);
    assertThat(joint(mean, 3, new double[] {0, 0}, independent, 1)).isEqualTo(product);
  }

  /** One error alone is a normal with both parts added in quadrature. */
  @Test
  void oneErrorIsNormal() {
    assertThat(joint(new double[] {0.4}, 1.5, new double[] {2}, new double[] {4}, 3))
        .isCloseTo(Normal.inside(0.4, 5, -3, 3), within(1e-10));
  }

  /** Independent check by drawing, seed 7; three standard deviations of the share drawn. */
  @Test
  void asDrawn() {
    double[] mean = {0.5, -0.2, 0.9};
    double[] sensitivity = {1, 1.5, 2};
    double[] independent = {0.4, 0.7, 0.2};
    Random random = new Random(7);
    int draws = 400_000;
    int inside = 0;
    for (int i = 0; i < draws; i++) {
      double common = 0.6 * random.nextGaussian();
      boolean all = true;
      for (int k = 0; k < 3; k++) {
        double error = mean[k] + sensitivity[k] * common + independent[k] * random.nextGaussian();
        all &= Math.abs(error) <= 1.5;
      }
      inside += all ? 1 : 0;
    }
    double share = (double) inside / draws;
    assertThat(joint(mean, 0.6, sensitivity, independent, 1.5))
        .isCloseTo(share, within(3 * Math.sqrt(share * (1 - share) / draws)));
  }

  @Test
  void refusesUnlikeLengths() {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> joint(new double[] {0}, 1, new double[] {1, 2}, new double[] {1}, 1))
        .satisfies(e -> assertThat(e.field()).isEqualTo("sensitivity"));
  }

  private static double positive(double common, double[] sensitivity, double[] independent) {
    int n = sensitivity.length;
    return Conformity.jointProbability(
        new double[n],
        common,
        sensitivity,
        independent,
        new double[n],
        filled(n, Double.POSITIVE_INFINITY));
  }

  private static double joint(
      double[] mean, double common, double[] sensitivity, double[] independent, double limit) {
    int n = mean.length;
    return Conformity.jointProbability(
        mean, common, sensitivity, independent, filled(n, -limit), filled(n, limit));
  }

  private static double[] filled(int n, double value) {
    double[] array = new double[n];
    Arrays.fill(array, value);
    return array;
  }
}
