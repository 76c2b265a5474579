package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Locale;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class TrimTest {

  static Stream<CsvRows.Row> simulated() {
    return CsvRows.of("/trim/expected.csv");
  }

  /** Validation: root found by simulating the line again; see the README beside the table. */
  @ParameterizedTest
  @MethodSource("simulated")
  void agreesWithSimulation(CsvRows.Row row) {
    Method method = Method.valueOf(row.text("method").toUpperCase(Locale.ROOT));
    double measured = row.number("measured_phase_deg");
    double target = row.number("target_phase_deg");
    PhaseError error =
        switch (row.text("mode")) {
          case "absolute" ->
              PhaseError.absolute(
                  UnwrappedPhase.ofDegrees(measured), UnwrappedPhase.ofDegrees(target));
          case "nearest" ->
              PhaseError.nearest(WrappedPhase.ofDegrees(measured), WrappedPhase.ofDegrees(target));
          default ->
              PhaseError.cutOnly(WrappedPhase.ofDegrees(measured), WrappedPhase.ofDegrees(target));
        };
    Trim trim =
        Trim.forPhaseError(
            Frequency.ofHertz(row.number("f_Hz")),
            VelocityFactor.of(row.number("velocity_factor")),
            error.degrees(),
            method.passes());

    // The table's phases and lengths end at 1e-9; 1e-8 mm allows for both.
    assertThat(trim.trimMm())
        .isCloseTo(row.number("trim_mm"), within(1e-8 + 1e-9 * Math.abs(row.number("trim_mm"))));
  }

  /** Conversions computed from exact definitions of c and the inch: millimetres per degree. */
  @ParameterizedTest
  @CsvSource({
    "1.000, 0.876586",
    "0.700, 0.613610",
    "0.695, 0.609227",
    "0.660, 0.578547",
    "0.659, 0.577670"
  })
  void millimetresPerDegreeAt950Megahertz(double velocityFactor, double millimetresPerDegree) {
    Trim trim =
        Trim.forPhaseError(Frequency.ofMegahertz(950), VelocityFactor.of(velocityFactor), -1, 1);

    assertThat(trim.trimMm()).isCloseTo(millimetresPerDegree, within(5e-7));
    // 1° at 950 MHz is 2.923977 ps whatever the cable.
    assertThat(trim.delayPs()).isCloseTo(2.923977, within(5e-7));
    assertThat(trim.electricalLengthMm()).isCloseTo(0.876586, within(5e-7));
    assertThat(trim.trimIn()).isCloseTo(trim.trimMm() / 25.4, within(1e-12));
  }

  @Test
  void aCableThatIsTooShortHasANegativeTrim() {
    Trim trim = Trim.forPhaseError(Frequency.ofGigahertz(2.8), VelocityFactor.of(0.695), 12.3, 1);

    assertThat(trim.trimMm()).isNegative();
    assertThat(trim.degreesPerMm()).isCloseTo(4.838, within(1e-3));
  }

  @Test
  void noErrorIsNoTrimWithoutASign() {
    Trim trim = Trim.forPhaseError(Frequency.ofGigahertz(1), VelocityFactor.VACUUM, 0, 1);

    assertThat(Double.doubleToRawLongBits(trim.trimMm())).isZero();
  }

  @Property(tries = 300, seed = "1")
  void trimThenMeasureAgainLandsOnTarget(
      @ForAll @DoubleRange(min = 1e6, max = 1e11) double hertz,
      @ForAll @DoubleRange(min = 0.2, max = 1) double velocityFactor,
      @ForAll @DoubleRange(min = -3600, max = 3600) double error) {
    Frequency frequency = Frequency.ofHertz(hertz);
    VelocityFactor v = VelocityFactor.of(velocityFactor);
    for (int passes = 1; passes <= 2; passes++) {
      Trim trim = Trim.forPhaseError(frequency, v, error, passes);

      // Measured again: the delay of one pass, and all passes' phase.
      double gainedDeg = 360 * hertz * trim.delayPs() / 1e12 * passes;
      assertThat(error + gainedDeg).isCloseTo(0, within(1e-8));
      assertThat(error + Trim.phaseShiftDeg(trim.trim(), frequency, v, passes))
          .isCloseTo(0, within(1e-9));
    }
  }

  @Property(tries = 300, seed = "1")
  void twoWayErrorIsHalfTheTrim(
      @ForAll @DoubleRange(min = 1e6, max = 1e11) double hertz,
      @ForAll @DoubleRange(min = -360, max = 360) double error) {
    Frequency frequency = Frequency.ofHertz(hertz);
    VelocityFactor v = VelocityFactor.of(0.7);
    Trim oneWay = Trim.forPhaseError(frequency, v, error, 1);
    Trim twoWay = Trim.forPhaseError(frequency, v, error, 2);

    assertThat(twoWay.trimMm()).isEqualTo(oneWay.trimMm() / 2);
    assertThat(twoWay.degreesPerMm()).isEqualTo(2 * oneWay.degreesPerMm());
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, Double.NaN, Double.POSITIVE_INFINITY, 1e13, 0.5})
  void aFrequencyOutOfRangeIsRefusedByName(double hertz) {
    InvalidQuantityException refusal =
        catchThrowableOfType(InvalidQuantityException.class, () -> Frequency.ofHertz(hertz));

    assertThat(refusal.field()).isEqualTo("frequencyHz");
    assertThat(refusal).hasMessageContaining(String.valueOf(hertz));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -0.1, 1.0001, Double.NaN, Double.NEGATIVE_INFINITY})
  void aVelocityFactorOutOfRangeIsRefusedByName(double value) {
    InvalidQuantityException refusal =
        catchThrowableOfType(InvalidQuantityException.class, () -> VelocityFactor.of(value));

    assertThat(refusal.field()).isEqualTo("velocityFactor");
    assertThat(refusal).hasMessageContaining(String.valueOf(value));
  }

  @ParameterizedTest
  @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.MAX_VALUE})
  void anErrorWithoutAUsableTrimIsRefusedByName(double error) {
    InvalidQuantityException refusal =
        catchThrowableOfType(
            InvalidQuantityException.class,
            () -> Trim.forPhaseError(Frequency.ofHertz(1), VelocityFactor.VACUUM, error, 1));

    assertThat(refusal.field()).isEqualTo("phaseErrorDeg");
  }

  @Test
  void otherThanOneOrTwoPassesAreRefused() {
    InvalidQuantityException refusal =
        catchThrowableOfType(
            InvalidQuantityException.class,
            () -> Trim.forPhaseError(Frequency.ofHertz(1e9), VelocityFactor.VACUUM, 1, 3));

    assertThat(refusal.field()).isEqualTo("passes");
  }
}
