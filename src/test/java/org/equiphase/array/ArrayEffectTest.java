package org.equiphase.array;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Validation of the array factor against solved cases and published figures. */
class ArrayEffectTest {

  static java.util.stream.Stream<ArrayCase> solved() {
    return ArrayCase.all();
  }

  @ParameterizedTest
  @MethodSource("solved")
  void effectsAreThoseOfTheSolvedCases(ArrayCase solved) {
    ArrayEffect effect =
        ArrayEffect.of(
            LinearArray.ofSpacing(0.5, solved.taper()),
            solved.expected().number("steer_deg"),
            solved.phaseErrorDeg());

    assertExpected(solved, "gain_loss_dB", effect.gainLossDb());
    assertExpected(solved, "peak_gain_loss_dB", effect.peakGainLossDb());
    assertExpected(solved, "pointing_shift_deg", effect.beamShiftDeg());
    assertExpected(solved, "peak_sidelobe_dB", effect.peakSidelobeDb().orElseThrow());
    assertExpected(solved, "error_free_sidelobe_dB", effect.idealPeakSidelobeDb().orElseThrow());
    assertExpected(solved, "exp_sigma2_loss_dB", effect.ruleOfThumbLossDb());
  }

  @ParameterizedTest
  @MethodSource("solved")
  void positionsGiveTheSameAsSpacing(ArrayCase solved) {
    double[] x = new double[solved.taper().length];
    for (int n = 0; n < x.length; n++) {
      x[n] = 3 + 0.5 * n;
    }
    ArrayEffect effect =
        ArrayEffect.of(
            LinearArray.ofPositions(x, solved.taper()),
            solved.expected().number("steer_deg"),
            solved.phaseErrorDeg());

    assertExpected(solved, "pointing_shift_deg", effect.beamShiftDeg());
    assertExpected(solved, "peak_sidelobe_dB", effect.peakSidelobeDb().orElseThrow());
  }

  private static void assertExpected(ArrayCase solved, String column, double value) {
    assertThat(value).as(column).isCloseTo(solved.expected().number(column), within(1e-7));
  }

  /**
   * First sidelobe of the uniform array, sin(Nψ/2)/(N·sin(ψ/2)); −13.26 dB is the limit of many
   * elements (C. A. Balanis, Antenna Theory, the section on N-element arrays; the values for each N
   * computed from that formula).
   */
  @ParameterizedTest
  @CsvSource({
    "8, -12.797",
    "10, -12.966",
    "16, -13.147",
    "32, -13.233",
    "64, -13.254",
    "100, -13.259"
  })
  void uniformArraysHaveTheirTextbookSidelobe(int elements, double sidelobeDb) {
    ArrayEffect effect = errorFree(0.5, Taper.uniform(elements), 0);

    assertThat(effect.idealPeakSidelobeDb().orElseThrow()).isCloseTo(sidelobeDb, within(6e-4));
    assertThat(effect.peakSidelobeDb()).isEqualTo(effect.idealPeakSidelobeDb());
    assertThat(effect.gainLossDb()).isZero();
    assertThat(effect.beamShiftDeg()).isCloseTo(0, within(1e-9));
  }

  /** exp(−σ²) in dB (J. Ruze, Antenna tolerance theory, Proc. IEEE 54, 1966). */
  @ParameterizedTest
  @CsvSource({"5, 0.0331", "10, 0.1323", "15, 0.2977", "20, 0.5292", "30, 1.1906"})
  void ruleOfThumbIsTheTolerancesTheory(double sigmaDeg, double lossDb) {
    double[] errors = {100 + sigmaDeg, 100 - sigmaDeg, 100 + sigmaDeg, 100 - sigmaDeg};

    ArrayEffect effect = ArrayEffect.of(LinearArray.ofSpacing(0.5, Taper.uniform(4)), 0, errors);

    assertThat(effect.ruleOfThumbLossDb()).isCloseTo(lossDb, within(5.1e-5));
    // Here every element is off by exactly σ: the loss is that of cos σ.
    assertThat(effect.gainLossDb())
        .isCloseTo(-20 * Math.log10(Math.cos(Math.toRadians(sigmaDeg))), within(1e-12));
  }

  /**
   * Mean power of N equal elements with normal errors, exactly e^−σ² + (1 − e^−σ²)/N in the steered
   * direction and (1 − e^−σ²)/N in a null, about σ²/N: the expectation of a sum of independent
   * phasors (R. J. Mailloux, Phased Array Antenna Handbook, chapter on errors; recalled, and
   * derived anew).
   */
  @Test
  void meanPowerIsTheExpectedOne() {
    int elements = 16;
    double sigmaDeg = 10;
    double shared = Math.exp(-Math.pow(Math.toRadians(sigmaDeg), 2));
    LinearArray array = LinearArray.ofSpacing(0.5, Taper.uniform(elements));
    Random random = new Random(7);
    int trials = 2000;
    double atBeam = 0;
    double inNull = 0;
    for (int t = 0; t < trials; t++) {
      double[] errors = normal(random, elements, sigmaDeg);
      atBeam += power(array, errors) / trials;
      for (int n = 0; n < elements; n++) {
        errors[n] += 360.0 * 3 * n / elements;
      }
      inNull += power(array, errors) / trials;
    }

    assertThat(shared + (1 - shared) / elements).isCloseTo(0.971873, within(1e-6));
    // Its standard error is 2e-4; e^−σ² alone lies 1.9e-3 away.
    assertThat(atBeam).isCloseTo(0.971873, within(9e-4));
    // The power in a null is exponentially distributed: standard error 2.2 %.
    assertThat(10 * Math.log10(inNull)).isCloseTo(-27.24, within(0.3));
  }

  private static double power(LinearArray array, double[] errors) {
    return Math.pow(10, -ArrayEffect.of(array, 0, errors).gainLossDb() / 10);
  }

  /**
   * Variance of the beam's direction in ψ = π·sin θ, 12σ²/(N(N² − 1)): the weighted mean slope of
   * independent errors (form of R. E. Leichter, Hughes, 1960; recalled, and derived anew).
   */
  @Test
  void beamsPointAsWellAsTheoryExpects() {
    int elements = 16;
    LinearArray array = LinearArray.ofSpacing(0.5, Taper.uniform(elements));
    Random random = new Random(11);
    int trials = 3000;
    double sum = 0;
    for (int t = 0; t < trials; t++) {
      ArrayEffect effect = ArrayEffect.of(array, 0, normal(random, elements, 5));
      sum += Math.pow(Math.sin(Math.toRadians(effect.beamShiftDeg())), 2) / trials;
    }

    // 4.7327e-3 for 5°; the standard error of the estimate is 1.3 %.
    assertThat(Math.PI * Math.sqrt(sum)).isCloseTo(4.7327e-3, within(4.7327e-3 * 0.04));
  }

  @Test
  void gratingLobesCountAsSidelobes() {
    // At a whole wavelength the endfire directions repeat the main lobe exactly.
    assertThat(errorFree(1, Taper.uniform(8), 0).idealPeakSidelobeDb().orElseThrow())
        .isCloseTo(0, within(1e-9));
    // 0.7 λ steered to 40°: the grating lobe's peak, at sin 40° − 1/0.7, is in sight.
    ArrayEffect steered = errorFree(0.7, Taper.uniform(12), 40);
    assertThat(steered.idealPeakSidelobeDb().orElseThrow()).isCloseTo(0, within(1e-9));
    assertThat(steered.beamShiftDeg()).isCloseTo(0, within(1e-9));
    // 0.6 λ steered to 40°: only its flank, so that the end of the visible space is highest.
    double flank = 10 * Math.log10(uniformPower(12, 0.6 * (-1 - Math.sin(Math.toRadians(40)))));
    assertThat(errorFree(0.6, Taper.uniform(12), 40).idealPeakSidelobeDb().orElseThrow())
        .isCloseTo(flank, within(1e-9));
  }

  /** (sin(Nπx)/(N·sin πx))². */
  private static double uniformPower(int elements, double x) {
    return Math.pow(Math.sin(elements * Math.PI * x) / (elements * Math.sin(Math.PI * x)), 2);
  }

  @Test
  void oneOrTwoElementsHaveNoSidelobes() {
    ArrayEffect one =
        ArrayEffect.of(LinearArray.ofSpacing(0.5, new double[] {2}), 25, new double[] {40});
    assertThat(one.peakSidelobeDb()).isEmpty();
    assertThat(one.idealPeakSidelobeDb()).isEmpty();
    assertThat(one.gainLossDb()).isCloseTo(0, within(1e-12));
    assertThat(one.beamShiftDeg()).isCloseTo(0, within(1e-12));
    assertThat(one.ruleOfThumbLossDb()).isZero();

    ArrayEffect two = errorFree(0.5, Taper.uniform(2), 0);
    assertThat(two.peakSidelobeDb()).isEmpty();
    // A lead of 60° in the second element is 60 of 180·sin θ degrees.
    ArrayEffect led =
        ArrayEffect.of(LinearArray.ofSpacing(0.5, Taper.uniform(2)), 0, new double[] {0, 60});
    assertThat(led.beamShiftDeg()).isCloseTo(-Math.toDegrees(Math.asin(60.0 / 180)), within(1e-9));
    assertThat(led.peakGainLossDb()).isCloseTo(0, within(1e-12));
    assertThat(led.gainLossDb())
        .isCloseTo(-20 * Math.log10(Math.cos(Math.toRadians(30))), within(1e-12));
    // Two elements a third of a wavelength apart have no minimum in sight at all.
    assertThat(errorFree(1.0 / 3, Taper.uniform(2), 0).peakSidelobeDb()).isEmpty();
  }

  @Test
  void binomialTaperHasNoSidelobes() {
    double[] binomial = {1, 4, 6, 4, 1};
    assertThat(errorFree(0.5, binomial, 0).peakSidelobeDb()).isEmpty();
  }

  @Test
  void largeErrorsMayMoveThePeakAnywhere() {
    // Alternating 0° and 180° turns a broadside array into an endfire one.
    double[] errors = {0, 180, 0, 180, 0, 180, 0, 180};
    ArrayEffect effect = ArrayEffect.of(LinearArray.ofSpacing(0.5, Taper.uniform(8)), 0, errors);
    assertThat(effect.gainLossDb()).isInfinite();
    assertThat(effect.peakGainLossDb()).isCloseTo(0, within(1e-12));
    assertThat(Math.abs(effect.beamShiftDeg())).isCloseTo(90, within(1e-5));
    // Both endfire directions are one lobe each: the other counts as a sidelobe.
    assertThat(effect.peakSidelobeDb().orElseThrow()).isCloseTo(0, within(1e-9));
  }

  @Test
  void endfireSteeringReachesTheEndOfTheVisibleSpace() {
    ArrayEffect effect = errorFree(0.4, Taper.uniform(10), 90);
    assertThat(effect.beamShiftDeg()).isCloseTo(0, within(1e-9));
    assertThat(effect.peakGainLossDb()).isCloseTo(0, within(1e-12));
    DensePattern dense =
        new DensePattern(100_000, places(10, 0.4), Taper.uniform(10), 1, new double[10]);
    assertThat(effect.peakSidelobeDb().orElseThrow())
        .isCloseTo(10 * Math.log10(dense.sidelobePower() / dense.peakPower()), within(1e-6));
  }

  @Test
  void thousandsOfElementsAreNoTrouble() {
    ArrayEffect effect = errorFree(0.5, Taper.uniform(5000), 30);
    // The limit of many elements: the first sidelobe of sin x/x, at x = 4.4934 (any table).
    assertThat(effect.idealPeakSidelobeDb().orElseThrow()).isCloseTo(-13.2615, within(1e-4));
    assertThat(effect.beamShiftDeg()).isCloseTo(0, within(1e-9));
  }

  @Test
  void badInputIsNamed() {
    double[] ones = {1, 1};
    assertRefused("spacingWavelengths", () -> LinearArray.ofSpacing(0, ones));
    assertRefused("spacingWavelengths", () -> LinearArray.ofSpacing(Double.NaN, ones));
    assertRefused("spacingWavelengths", () -> LinearArray.ofSpacing(1e6, ones));
    assertRefused("taper", () -> LinearArray.ofSpacing(0.5, new double[0]));
    assertRefused("taper", () -> LinearArray.ofSpacing(0.5, new double[] {0, 0}));
    assertRefused("taper[1]", () -> LinearArray.ofSpacing(0.5, new double[] {1, -1}));
    assertRefused(
        "taper[0]", () -> LinearArray.ofSpacing(0.5, new double[] {Double.POSITIVE_INFINITY, 1}));
    assertRefused(
        "positionsWavelengths[1]", () -> LinearArray.ofPositions(new double[] {1, 1}, ones));
    assertRefused("positionsWavelengths", () -> LinearArray.ofPositions(new double[] {1}, ones));
    assertRefused(
        "positionsWavelengths", () -> LinearArray.ofPositions(new double[] {0, 1e6}, ones));
    LinearArray array = LinearArray.ofSpacing(0.5, ones);
    assertRefused("steerDeg", () -> ArrayEffect.of(array, 91, new double[2]));
    assertRefused("phaseErrorDeg", () -> ArrayEffect.of(array, 0, new double[3]));
    assertRefused("phaseErrorDeg[1]", () -> ArrayEffect.of(array, 0, new double[] {0, Double.NaN}));
    assertRefused("phaseErrorDeg", () -> ArrayEffect.of(array, 0, new double[] {1e300, -1e300}));
  }

  private static void assertRefused(
      String field, org.assertj.core.api.ThrowableAssert.ThrowingCallable call) {
    assertThatThrownBy(call)
        .isInstanceOfSatisfying(
            InvalidQuantityException.class, e -> assertThat(e.field()).isEqualTo(field));
  }

  private static ArrayEffect errorFree(double spacing, double[] taper, double steerDeg) {
    return ArrayEffect.of(
        LinearArray.ofSpacing(spacing, taper), steerDeg, new double[taper.length]);
  }

  static double[] places(int elements, double spacing) {
    double[] x = new double[elements];
    for (int n = 0; n < elements; n++) {
      x[n] = n * spacing;
    }
    return x;
  }

  static double[] normal(Random random, int elements, double sigmaDeg) {
    double[] errors = new double[elements];
    for (int n = 0; n < elements; n++) {
      errors[n] = sigmaDeg * random.nextGaussian();
    }
    return errors;
  }
}
