package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** End standards, temperature, cable loss, and turns at one frequency. */
class CorrectionsTest {
  private static final Frequency F = Frequency.ofGigahertz(1);
  private static final VelocityFactor V = VelocityFactor.of(0.7);

  @ParameterizedTest
  @ValueSource(doubles = {0, 1e8, 1e9, 1.8e10})
  void endPhasesAreThoseOfTheirImpedances(double hertz) {
    double omega = 2 * Math.PI * hertz;
    double capacitance = 50e-15 - 300e-27 * hertz + 20e-36 * hertz * hertz;
    double inductance = 2e-12 + 1e-24 * hertz;

    // The load's Γ by (Z − R)/(Z + R); an open's is that of its admittance, negated.
    double open =
        Complex.ONE
            .minus(Complex.of(0, omega * capacitance * 50))
            .dividedBy(Complex.ONE.plus(Complex.of(0, omega * capacitance * 50)))
            .argumentDeg();
    double shorted = Reflection.gammaOfLoad(Complex.of(0, omega * inductance), 50).argumentDeg();

    assertThat(EndStandard.open(0, 50, -300, 20, 0).phaseDeg(hertz, 50))
        .isCloseTo(open, within(1e-9));
    assertThat(EndStandard.shorted(0, 2, 1, 0, 0).phaseDeg(hertz, 50))
        .isCloseTo(shorted, within(1e-9));
  }

  @Test
  void anOffsetIsPassedTwice() {
    assertThat(EndStandard.shorted(100, 0, 0, 0, 0).phaseDeg(1e9, 50)).isCloseTo(108, within(1e-9));
    assertThat(EndStandard.IDEAL_OPEN.phaseDeg(1e9, 50)).isZero();
    assertThat(EndStandard.IDEAL_SHORT.phaseDeg(1e9, 50)).isEqualTo(180);
    assertThat(
            catchThrowableOfType(
                    InvalidQuantityException.class, () -> EndStandard.open(0, Double.NaN, 0, 0, 0))
                .field())
        .isEqualTo("c0");
  }

  /** 10 m of v 0.695 at 950 MHz is 16 414.2°, so that 100 ppm are 1.6414°. */
  @Test
  void temperatureScalesTheTotalPhase() {
    PhaseTemperatureCurve curve =
        PhaseTemperatureCurve.of(new double[] {15, 20, 25}, new double[] {100, 0, -20});

    assertThat(curve.correctDeg(-16414.2, 20, 15)).isCloseTo(-16415.8414, within(1e-4));
    assertThat(curve.correctDeg(-16414.2, 20, 22.5)).isCloseTo(-16414.0359, within(1e-4));
    assertThat(curve.correctDeg(-16414.2, 18, 18)).isEqualTo(-16414.2);
    assertThat(curve.ppmAt(17.5)).isEqualTo(50);
  }

  @Property(tries = 200, seed = "1")
  void thereAndBackIsTheSamePhase(
      @ForAll @DoubleRange(min = 15, max = 25) double from,
      @ForAll @DoubleRange(min = 15, max = 25) double to) {
    PhaseTemperatureCurve curve =
        PhaseTemperatureCurve.of(new double[] {15, 19, 25}, new double[] {900, 0, -300});

    double there = curve.correctDeg(-50000, from, to);
    assertThat(curve.correctDeg(there, to, from)).isCloseTo(-50000, within(1e-9));
  }

  @ParameterizedTest
  @ValueSource(doubles = {14.999, 25.001, Double.NaN})
  void aTemperatureOutsideTheCurveIsRefused(double celsius) {
    PhaseTemperatureCurve curve =
        PhaseTemperatureCurve.of(new double[] {15, 25}, new double[] {0, -50});

    assertThat(
            catchThrowableOfType(
                    InvalidQuantityException.class, () -> curve.correctDeg(-1, celsius, 20))
                .field())
        .isEqualTo("temperatureC");
  }

  @Test
  void attenuationRisesWithRootAndFirstPower() {
    CableLoss loss = new CableLoss(0.4, 0.02);

    assertThat(loss.dbPerMetre(Frequency.ofGigahertz(4))).isCloseTo(0.88, within(1e-12));
    assertThat(loss.lossDb(Frequency.ofGigahertz(1), Length.ofMetres(2)))
        .isCloseTo(0.84, within(1e-12));
  }

  @ParameterizedTest
  @CsvSource({
    // At 1 GHz a wavelength on the cable is 209.855 mm; 2.1 m are 10.007 of them.
    "TRANSMISSION, 30, 104, false, -3570",
    "TRANSMISSION, 30, 106, true, 0",
    "REFLECTION_OPEN, 60, 52, false, -3570",
    "REFLECTION_OPEN, 60, 53, true, 0",
    "REFLECTION_SHORT, -120, 52, false, -3570",
  })
  void turnsAtOneFrequencyComeFromTheExpectedLength(
      Method method, double phase, double uncertaintyMm, boolean ambiguous, double totalDeg) {
    TurnsAtOneFrequency found =
        TurnsAtOneFrequency.resolve(
            F,
            method,
            phase,
            method.idealEndPhaseDeg(),
            V,
            Length.ofMetres(2.1),
            Length.ofMillimetres(uncertaintyMm));

    assertThat(found.ambiguous()).isEqualTo(ambiguous);
    assertThat(found.moduloDeg()).isEqualTo(360.0 / method.passes());
    assertThat(found.phaseDeg()).isCloseTo(30, within(1e-9));
    if (!ambiguous) {
      assertThat(found.totalPhaseDeg().orElseThrow()).isCloseTo(totalDeg, within(1e-9));
      assertThat(found.turns()).hasValue(10);
      assertThat(found.departureDeg().orElseThrow()).isCloseTo(32.49, within(0.02));
    }
  }

  @Test
  void anExpectedLengthIsAbove0() {
    assertThat(
            catchThrowableOfType(
                    InvalidQuantityException.class,
                    () ->
                        TurnsAtOneFrequency.resolve(
                            F, Method.TRANSMISSION, 0, 0, V, new Length(0), new Length(0)))
                .field())
        .isEqualTo("expectedLengthM");
  }
}
