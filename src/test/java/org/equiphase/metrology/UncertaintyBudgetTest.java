package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/** Validation of budgets against the worked examples of JCGM 100:2008. */
class UncertaintyBudgetTest {

  private static final double INFINITE = Double.POSITIVE_INFINITY;

  /** JCGM 100:2008, H.1: end-gauge calibration; results in nm, l_s = 50.000 623 mm. */
  private static final UncertaintyBudget END_GAUGE =
      new UncertaintyBudget(
          List.of(
              new Contribution("standard", 25, Distribution.NORMAL, 1, 18, Sharing.COMMON),
              new Contribution(
                  "difference", 9.7, Distribution.NORMAL, 1, 25.6, Sharing.INDEPENDENT),
              new Contribution(
                  "expansion difference",
                  1e-6,
                  Distribution.RECTANGULAR,
                  -50_000_623 * -0.1,
                  50,
                  Sharing.COMMON),
              new Contribution(
                  "temperature difference",
                  0.05,
                  Distribution.RECTANGULAR,
                  -50_000_623 * 11.5e-6,
                  2,
                  Sharing.COMMON)));

  @Test
  void endGauge() {
    assertThat(END_GAUGE.contributions().get(2).standardUncertainty()).isCloseTo(2.9, within(0.05));
    assertThat(END_GAUGE.contributions().get(3).standardUncertainty())
        .isCloseTo(16.6, within(0.05));
    // Printed 32 nm from u_c² = 1002 nm²; the printed terms add up to 31.65.
    assertThat(END_GAUGE.standardUncertainty()).isCloseTo(31.65, within(0.05));
    assertThat(END_GAUGE.effectiveDegreesOfFreedom()).isCloseTo(16.7, within(0.2));
    // t99(16) = 2.92, U99 = 93 nm, which is 2.92 times the rounded 32 nm.
    assertThat(END_GAUGE.coverageFactor(0.99)).isCloseTo(2.92, within(0.005));
    assertThat(END_GAUGE.expandedUncertainty(2.92)).isCloseTo(93, within(0.7));
  }

  /** JCGM 100:2008, table G.2: t for 95 % with 10 and 50 degrees of freedom; z for ∞. */
  @Test
  void coverageFactorsOfTheTable() {
    assertThat(withDegrees(10).coverageFactor(0.95)).isCloseTo(2.23, within(0.005));
    assertThat(withDegrees(50).coverageFactor(0.95)).isCloseTo(2.01, within(0.005));
    assertThat(withDegrees(INFINITE).coverageFactor(0.95)).isCloseTo(1.960, within(0.0005));
    assertThat(withDegrees(10.9).coverageFactor(0.95))
        .isEqualTo(withDegrees(10).coverageFactor(0.95));
  }

  @Test
  void sharesAddUpAndPartsCombine() {
    assertThat(END_GAUGE.varianceSharePercent().stream().mapToDouble(s -> s).sum())
        .isCloseTo(100, within(1e-9));
    assertThat(END_GAUGE.varianceSharePercent().get(0)).isCloseTo(100 * 625 / 1002.0, within(0.3));
    assertThat(END_GAUGE.independentStandardUncertainty()).isCloseTo(9.7, within(1e-12));
    assertThat(
            Math.hypot(
                END_GAUGE.commonStandardUncertainty(), END_GAUGE.independentStandardUncertainty()))
        .isCloseTo(END_GAUGE.standardUncertainty(), within(1e-9));
  }

  /** JCGM 100:2008, 4.3.7, 4.3.9; the arcsine distribution's variance is a²/2. */
  @Test
  void halfWidthsBecomeStandardUncertainties() {
    assertThat(standard(Distribution.RECTANGULAR)).isCloseTo(0.577350, within(1e-6));
    assertThat(standard(Distribution.TRIANGULAR)).isCloseTo(0.408248, within(1e-6));
    assertThat(standard(Distribution.U_SHAPED)).isCloseTo(0.707107, within(1e-6));
    assertThat(standard(Distribution.NORMAL)).isEqualTo(1);
    assertThat(
            Contribution.ofExpanded("certificate", 0.6, 2, 3, INFINITE, Sharing.COMMON)
                .standardUncertainty())
        .isCloseTo(0.9, within(1e-12));
  }

  @Test
  void commonErrorsCancelInADifference() {
    UncertaintyBudget difference = END_GAUGE.ofDifference();
    assertThat(difference.contributions()).hasSize(1);
    assertThat(difference.standardUncertainty()).isCloseTo(9.7 * Math.sqrt(2), within(1e-9));
    assertThat(difference.effectiveDegreesOfFreedom()).isCloseTo(25.6, within(1e-9));
  }

  @Test
  void nothingIsExact() {
    UncertaintyBudget none = new UncertaintyBudget(List.of());
    assertThat(none.standardUncertainty()).isZero();
    assertThat(none.effectiveDegreesOfFreedom()).isInfinite();
    assertThat(none.ofDifference()).isEqualTo(none);
  }

  /**
   * JCGM 100:2008, H.2: resistance, reactance and impedance from V, I and φ measured together.
   * Printed u(R) 0.070, u(X) 0.295, u(Z) 0.236 Ω, r(R, X) −0.59, r(R, Z) −0.49, r(X, Z) 0.993; the
   * inputs' correlations are rounded to two digits.
   */
  @Test
  void correlatedInputs() {
    double v = 4.9990;
    double i = 19.6610e-3;
    double phi = 1.04446;
    double[] u = {0.0032, 0.0095e-3, 0.00075};
    double[][] r = {{1, -0.36, 0.86}, {-0.36, 1, -0.65}, {0.86, -0.65, 1}};
    double cos = Math.cos(phi);
    double sin = Math.sin(phi);
    double z = v / i;
    double[][] jacobian = {
      {cos / i, -z / i * cos, -z * sin}, {sin / i, -z / i * sin, z * cos}, {1 / i, -z / i, 0}
    };
    Covariance result = Covariance.of(u, r).propagate(jacobian);
    assertThat(result.standardUncertainty(0)).isCloseTo(0.070, within(0.0015));
    assertThat(result.standardUncertainty(1)).isCloseTo(0.295, within(0.0015));
    assertThat(result.standardUncertainty(2)).isCloseTo(0.236, within(0.0015));
    assertThat(result.correlation(0, 1)).isCloseTo(-0.59, within(0.01));
    assertThat(result.correlation(0, 2)).isCloseTo(-0.49, within(0.01));
    assertThat(result.correlation(1, 2)).isCloseTo(0.993, within(0.001));
    assertThat(Covariance.combine(jacobian[0], u, r)).isEqualTo(result.standardUncertainty(0));
  }

  /** Fully correlated errors add or cancel (JCGM 100:2008, 5.2.2, note 1). */
  @Test
  void fullCorrelationAddsLinearly() {
    double[][] together = {{1, 1}, {1, 1}};
    assertThat(Covariance.combine(new double[] {1, 1}, new double[] {3, 4}, together))
        .isCloseTo(7, within(1e-12));
    assertThat(Covariance.combine(new double[] {1, -1}, new double[] {3, 3}, together)).isZero();
  }

  @Test
  void refusesBadLines() {
    refused("value", () -> line(-1, 1, INFINITE));
    refused("value", () -> line(1e300, 1, INFINITE));
    refused("sensitivity", () -> line(1, Double.NaN, INFINITE));
    refused("degreesOfFreedom", () -> line(1, 1, 0.5));
    refused("degreesOfFreedom", () -> line(1, 1, Double.NaN));
    refused("coverageFactor", () -> Contribution.ofExpanded("a", 1, 0, 1, 5, Sharing.COMMON));
    refused("probability", () -> END_GAUGE.coverageFactor(1));
    refused(
        "correlation[0][1]",
        () -> Covariance.of(new double[] {1, 1}, new double[][] {{1, 0.5}, {0.4, 1}}));
    refused(
        "correlation",
        () ->
            Covariance.combine(
                new double[] {1, 1, 1},
                new double[] {1, 1, 1},
                new double[][] {{1, -0.9, -0.9}, {-0.9, 1, -0.9}, {-0.9, -0.9, 1}}));
  }

  private static void refused(String field, Runnable call) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(call::run)
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }

  private static Contribution line(double value, double sensitivity, double degrees) {
    return new Contribution(
        "line", value, Distribution.NORMAL, sensitivity, degrees, Sharing.INDEPENDENT);
  }

  private static UncertaintyBudget withDegrees(double degrees) {
    return new UncertaintyBudget(List.of(line(1, 1, degrees)));
  }

  private static double standard(Distribution distribution) {
    return Contribution.of("line", 1, distribution, Sharing.INDEPENDENT).standardUncertainty();
  }
}
