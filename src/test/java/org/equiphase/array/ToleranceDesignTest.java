package org.equiphase.array;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Tolerances found by simulation, checked by a simulation of its own and by hand. */
class ToleranceDesignTest {

  private static final LinearArray TAYLOR = LinearArray.ofSpacing(0.5, Taper.taylor(16, -30, 5));

  /**
   * Other random numbers and a dense scan of the definition put the share where it was promised.
   */
  @ParameterizedTest
  @EnumSource
  void holdsInAnIndependentSimulation(ErrorDistribution distribution) {
    ToleranceDesign design =
        ToleranceDesign.of(TAYLOR, 0, new ToleranceDesign.Goal(distribution, -25, 0.9, 2000, 1));

    Random random = new Random(99);
    int trials = 400;
    int within = 0;
    for (int t = 0; t < trials; t++) {
      double[] errors = new double[16];
      for (int n = 0; n < errors.length; n++) {
        double unit =
            distribution == ErrorDistribution.UNIFORM
                ? 2 * random.nextDouble() - 1
                : random.nextGaussian();
        errors[n] = design.toleranceDeg() * unit;
      }
      DensePattern dense =
          new DensePattern(
              2000, ArrayEffectTest.places(16, 0.5), Taper.taylor(16, -30, 5), 0, errors);
      if (10 * Math.log10(dense.sidelobePower() / dense.peakPower()) <= -25) {
        within++;
      }
    }
    // 400 trials at 0.9 have a standard deviation of 0.015.
    assertThat(within / (double) trials).isCloseTo(0.9, within(0.05));
    // 2000 trials twice: 0.0095.
    assertThat(design.probability()).isCloseTo(0.9, within(0.03));
    assertThat(design.probabilityLower()).isLessThan(design.probability());
    assertThat(design.probabilityUpper()).isGreaterThan(design.probability());
    assertThat(design.anyErrorWillDo()).isFalse();
  }

  /**
   * Two elements 0.6 λ apart have no sidelobe but the flank of the grating lobe at the end of the
   * visible space: cos(0.6·180°) of the peak without errors, and an error difference δ moves it to
   * cos(108° − δ/2), as far as |δ| keeps the peak in sight. With errors uniform in ±T, δ has a
   * triangular density, so P(|δ| ≤ a) = 1 − (1 − a/2T)².
   */
  @Test
  void isTheExactToleranceOfTwoElements() {
    LinearArray pair = LinearArray.ofSpacing(0.6, Taper.uniform(2));
    double allowedDeg = 30;
    double limitDb = 20 * Math.log10(-Math.cos(Math.toRadians(108 + allowedDeg / 2)));
    double probability = 0.9;
    double exact = allowedDeg / 2 / (1 - Math.sqrt(1 - probability));

    ToleranceDesign design =
        ToleranceDesign.of(
            pair,
            0,
            new ToleranceDesign.Goal(ErrorDistribution.UNIFORM, limitDb, probability, 4000, 5));

    // The share's standard error is 0.005; at the answer it falls by 0.016 per degree.
    assertThat(design.toleranceDeg()).isCloseTo(exact, within(1.0));
  }

  /** Exact limits of Clopper and Pearson for no failure in n trials: 0.025^(1/n) to 1. */
  @Test
  void anyErrorWillDoWhereThereIsNoSidelobeToSpoil() {
    LinearArray close = LinearArray.ofSpacing(0.2, Taper.uniform(2));

    ToleranceDesign design =
        ToleranceDesign.of(
            close, 0, new ToleranceDesign.Goal(ErrorDistribution.UNIFORM, -3, 0.4, 1000, 1));

    assertThat(design.anyErrorWillDo()).isTrue();
    assertThat(design.toleranceDeg()).isEqualTo(180);

    ToleranceDesign sure =
        ToleranceDesign.of(
            LinearArray.ofSpacing(0.5, Taper.uniform(1)),
            0,
            new ToleranceDesign.Goal(ErrorDistribution.NORMAL, -3, 0.9, 1000, 1));
    assertThat(sure.probability()).isEqualTo(1);
    assertThat(sure.probabilityUpper()).isEqualTo(1);
    assertThat(sure.probabilityLower()).isCloseTo(Math.pow(0.025, 1e-3), within(1e-9));
    assertThat(sure.idealPeakSidelobeDb()).isEmpty();
  }

  @Test
  void theSameSeedGivesTheSameAnswer() {
    ToleranceDesign.Goal goal =
        new ToleranceDesign.Goal(ErrorDistribution.NORMAL, -24, 0.95, 500, 42);

    assertThat(ToleranceDesign.of(TAYLOR, 10, goal))
        .isEqualTo(ToleranceDesign.of(TAYLOR, 10, goal));
  }

  @Test
  void badGoalsAreNamed() {
    assertRefused("sidelobeLimitDb", -31, 0.9, 1000);
    assertRefused("sidelobeLimitDb", 0, 0.9, 1000);
    assertRefused("sidelobeLimitDb", Double.NaN, 0.9, 1000);
    assertRefused("probability", -25, 1, 1000);
    assertRefused("trials", -25, 0.9, 99);
    assertRefused("trials", -25, 0.9, 1_000_000);
  }

  private static void assertRefused(String field, double limitDb, double probability, int trials) {
    assertThatThrownBy(
            () ->
                ToleranceDesign.of(
                    TAYLOR,
                    0,
                    new ToleranceDesign.Goal(
                        ErrorDistribution.NORMAL, limitDb, probability, trials, 1)))
        .isInstanceOfSatisfying(
            InvalidQuantityException.class, e -> assertThat(e.field()).isEqualTo(field));
  }
}
