package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.assertj.core.api.ThrowableAssert.ThrowingCallable;
import org.equiphase.rf.SweepAnalysis.TurnsSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class SweepAnalyzerTest {
  private static final VelocityFactor V = VelocityFactor.of(0.7);
  private static final SweepSettings THROUGH = SweepSettings.of(Method.TRANSMISSION, V);
  private static final double[] BAND = SyntheticSweep.even(2e9, 3e9, 101);

  @Property(tries = 200, seed = "1")
  void unwrappingUndoesWrapping(
      @ForAll @DoubleRange(min = 0.1, max = 49) double delayNs,
      @ForAll @IntRange(min = 2, max = 7) int startGigahertz) {
    double delayS = delayNs * 1e-9;
    double start = startGigahertz * 1e9;
    Sweep sweep = SyntheticSweep.of(SyntheticSweep.even(start, start + 1e9, 101), delayS, 0, 0);

    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep, THROUGH.withSpotsHz(List.of(start)));

    SpotReading spot = analysis.spots().get(0);
    assertThat(spot.totalPhaseDeg().orElseThrow()).isCloseTo(-360 * start * delayS, within(1e-6));
    assertThat(analysis.delay().seconds()).isCloseTo(delayS, within(1e-17));
    assertThat(spot.wrappedPhaseDeg() - 360.0 * analysis.turns().orElseThrow())
        .isCloseTo(spot.totalPhaseDeg().orElseThrow(), within(1e-6));
  }

  @Property(tries = 200, seed = "1")
  void twoWayIsTwiceOneWay(@ForAll @DoubleRange(min = 0.1, max = 24) double delayNs) {
    double delayS = delayNs * 1e-9;
    SweepAnalysis oneWay = SweepAnalyzer.analyse(SyntheticSweep.of(BAND, delayS, 0, 1), THROUGH);
    SweepAnalysis shorted =
        SweepAnalyzer.analyse(
            SyntheticSweep.ofPasses(BAND, 2, delayS, 180, 1),
            SweepSettings.of(Method.REFLECTION_SHORT, V));
    SweepAnalysis open =
        SweepAnalyzer.analyse(
            SyntheticSweep.ofPasses(BAND, 2, delayS, 0, 1),
            SweepSettings.of(Method.REFLECTION_OPEN, V));

    for (SweepAnalysis twoWay : List.of(shorted, open)) {
      assertThat(twoWay.turns()).isEqualTo(oneWay.turns());
      SpotReading expected = oneWay.trace().at(2.5e9);
      SpotReading found = twoWay.trace().at(2.5e9);
      assertThat(found.totalPhaseDeg().orElseThrow())
          .isCloseTo(expected.totalPhaseDeg().orElseThrow(), within(1e-6));
      assertThat(found.insertionLossDb()).isCloseTo(expected.insertionLossDb(), within(1e-9));
    }
  }

  @Test
  void spotsBetweenPointsLieOnTheUnwrappedPhase() {
    Sweep sweep = SyntheticSweep.of(BAND, 40e-9, 0, 0);

    SpotReading spot =
        SweepAnalyzer.analyse(sweep, THROUGH.withSpotsHz(List.of(2.345e9))).spots().get(0);

    assertThat(spot.totalPhaseDeg().orElseThrow()).isCloseTo(-33768, within(1e-6));
    assertThat(spot.wrappedPhaseDeg()).isCloseTo(72, within(1e-6));
    assertThat(spot.vswr()).isEmpty();
  }

  @ParameterizedTest
  @ValueSource(doubles = {1.99e9, 3.01e9, -1, 0, Double.NaN, Double.POSITIVE_INFINITY})
  void aSpotOutsideTheSweepIsRefused(double spotHz) {
    Sweep sweep = SyntheticSweep.of(BAND, 10e-9, 0, 0);

    InvalidQuantityException refusal =
        refusal(() -> SweepAnalyzer.analyse(sweep, THROUGH.withSpotsHz(List.of(spotHz))));

    assertThat(refusal.field()).isEqualTo("spotHz");
    assertThat(refusal).hasMessageContaining(String.valueOf(spotHz));
  }

  @Test
  void anAmbiguousInterceptLeavesTurnsAndTotalPhasesOpen() {
    Sweep sweep = SyntheticSweep.of(BAND, 10.02e-9, 108, 0);

    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep, THROUGH.withSpotsHz(List.of(2.5e9)));

    // 108° are 0.3 turns.
    assertThat(analysis.turnsConfidence()).isCloseTo(0.4, within(1e-9));
    assertThat(analysis.turns()).isEmpty();
    assertThat(analysis.turnsSource()).isEqualTo(TurnsSource.NONE);
    assertThat(analysis.spots().get(0).totalPhaseDeg()).isEmpty();
    // 108 − 360·25.05 = −8910 = 90 − 25·360.
    assertThat(analysis.spots().get(0).wrappedPhaseDeg()).isCloseTo(90, within(1e-6));
  }

  @Test
  void anUnknownReflectionPhaseHoldsModulo180() {
    Sweep sweep = SyntheticSweep.ofPasses(BAND, 2, 10.02e-9, 108, 0);

    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            sweep, SweepSettings.of(Method.REFLECTION_OPEN, V).withSpotsHz(List.of(2.5e9)));

    assertThat(analysis.turns()).isEmpty();
    // One way 54 − 9018 = −8964 = 36 − 50·180.
    assertThat(analysis.spots().get(0).wrappedPhaseDeg()).isCloseTo(36, within(1e-6));
  }

  @Test
  void theExpectedLengthSettlesAnAmbiguousIntercept() {
    Sweep sweep = SyntheticSweep.of(BAND, 10.02e-9, 108, 0);
    Length length = Delay.ofSeconds(10.02e-9).lengthAt(V);

    SweepAnalysis analysis = SweepAnalyzer.analyse(sweep, THROUGH.withExpectedLength(length));

    assertThat(analysis.turnsSource()).isEqualTo(TurnsSource.EXPECTED_LENGTH);
    assertThat(analysis.trace().at(2.5e9).totalPhaseDeg().orElseThrow())
        .isCloseTo(-8910, within(1e-6));
  }

  @Test
  void anExpectedLengthBetweenTwoNumbersOfTurnsSettlesNothing() {
    Sweep sweep = SyntheticSweep.of(BAND, 10e-9, 170, 0);
    Length length = Delay.ofSeconds(10e-9).lengthAt(V);

    assertThat(SweepAnalyzer.analyse(sweep, THROUGH.withExpectedLength(length)).turns()).isEmpty();
  }

  @Test
  void anUncertaintyBeyondHalfAWavelengthSettlesNothing() {
    Sweep sweep = SyntheticSweep.of(BAND, 10e-9, 108, 0);
    Length length = Delay.ofSeconds(10e-9).lengthAt(V);
    // λ/2 on the cable is 42 mm at 2.5 GHz.
    assertThat(turnsWith(sweep, length, 41)).isTrue();
    assertThat(turnsWith(sweep, length, 43)).isFalse();
    // 108° are 25 mm, which ±20 mm don't cover.
    assertThat(turnsWith(sweep, length, 20)).isFalse();
  }

  private static boolean turnsWith(Sweep sweep, Length length, double uncertaintyMm) {
    return SweepAnalyzer.analyse(
            sweep, THROUGH.withExpectedLength(length, Length.ofMillimetres(uncertaintyMm)))
        .turns()
        .isPresent();
  }

  @Test
  void adaptersAreTakenOff() {
    // 10 ns of cable, 50 ps of adapters with 0.1 dB at 1 GHz.
    Sweep sweep = SyntheticSweep.of(BAND, 10.05e-9, 0, 1.1);

    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            sweep, THROUGH.withReferencePlane(ReferencePlane.ofPicoseconds(50, 0.1)));

    assertThat(analysis.delay().inNanoseconds()).isCloseTo(10, within(1e-9));
    assertThat(analysis.trace().at(2e9).totalPhaseDeg().orElseThrow())
        .isCloseTo(-7200, within(1e-6));
    assertThat(analysis.trace().at(2e9).insertionLossDb()).isCloseTo(Math.sqrt(2), within(1e-9));
  }

  @Test
  void theEndStandardIsTakenOff() {
    EndStandard open = EndStandard.open(30, 50, 0, 0, 0);
    double[] re = new double[BAND.length];
    double[] im = new double[BAND.length];
    for (int i = 0; i < BAND.length; i++) {
      // Γ of 50 fF behind 10 ns of cable and 30 ps of offset, from (Z − R)/(Z + R).
      Complex capacitor = Complex.of(0, -1 / (2 * Math.PI * BAND[i] * 50e-15));
      Complex gamma =
          Reflection.gammaOfLoad(capacitor, 50)
              .times(Complex.ofPolarDeg(1, -720 * BAND[i] * 10.03e-9));
      re[i] = gamma.re();
      im[i] = gamma.im();
    }

    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            Sweep.of(BAND, re, im),
            SweepSettings.of(Method.REFLECTION_OPEN, V).withEndStandard(open));

    assertThat(analysis.delay().inNanoseconds()).isCloseTo(10, within(1e-9));
    assertThat(analysis.turnsConfidence()).isCloseTo(1, within(1e-9));
    assertThat(analysis.trace().at(2.5e9).totalPhaseDeg().orElseThrow())
        .isCloseTo(-9000, within(1e-6));
  }

  @Test
  void anEndStandardOfTheOtherKindIsRefused() {
    assertThat(
            refusal(
                    () ->
                        SweepSettings.of(Method.REFLECTION_OPEN, V)
                            .withEndStandard(EndStandard.IDEAL_SHORT))
                .field())
        .isEqualTo("endStandard");
  }

  @Test
  void aSweepFromZeroHertzAndOneOfTwoPointsAreRead() {
    Sweep fromZero = SyntheticSweep.of(SyntheticSweep.even(0, 1e9, 101), 10e-9, 0, 0);
    assertThat(SweepAnalyzer.analyse(fromZero, THROUGH).turns()).hasValue(0);

    Sweep twoPoints = SyntheticSweep.of(new double[] {1e9, 1.01e9}, 10e-9, 0, 0);
    SweepAnalysis analysis = SweepAnalyzer.analyse(twoPoints, THROUGH);
    assertThat(analysis.delay().inNanoseconds()).isCloseTo(10, within(1e-9));
    assertThat(analysis.fitResidualDeg()).isCloseTo(0, within(1e-9));
  }

  @Test
  void theResidualIsTheRootMeanSquare() {
    double[] frequencyHz = {1e9, 2e9, 3e9, 4e9};
    double[] offDeg = {1, -1, -1, 1};
    double[] re = new double[4];
    double[] im = new double[4];
    for (int i = 0; i < 4; i++) {
      Complex value = Complex.ofPolarDeg(1, -36 * (i + 1) + offDeg[i]);
      re[i] = value.re();
      im[i] = value.im();
    }

    assertThat(SweepAnalyzer.analyse(Sweep.of(frequencyHz, re, im), THROUGH).fitResidualDeg())
        .isCloseTo(1, within(1e-9));
  }

  @Test
  void theVswrIsThatOfS11() {
    double[] s11 = new double[BAND.length];
    Arrays.fill(s11, 1 / 3.0);
    Sweep sweep = SyntheticSweep.of(BAND, 10e-9, 0, 0);

    SweepAnalysis matched = SweepAnalyzer.analyse(sweep.withS11(s11, new double[101]), THROUGH);
    assertThat(matched.trace().at(2e9).vswr().orElseThrow()).isCloseTo(2, within(1e-12));

    Arrays.fill(s11, 1);
    SweepAnalysis total = SweepAnalyzer.analyse(sweep.withS11(s11, new double[101]), THROUGH);
    assertThat(total.trace().at(2e9).vswr()).isEmpty();
  }

  @Test
  void unusableSweepsAreRefused() {
    assertThat(refusal(() -> SweepAnalyzer.analyse(ofPoints(1e9), THROUGH)))
        .hasMessageContaining("at least 2 points");
    assertThat(refusal(() -> ofPoints())).hasMessageContaining("no points");
    assertThat(refusal(() -> ofPoints(2e9, 1e9))).hasMessageContaining("ascend");
    assertThat(refusal(() -> ofPoints(1e9, 1e9))).hasMessageContaining("ascend");
    assertThat(refusal(() -> ofPoints(-1, 1e9))).hasMessageContaining("0 Hz");
    assertThat(refusal(() -> ofPoints(Double.NaN))).hasMessageContaining("NaN");
    assertThat(
            refusal(
                () -> Sweep.of(new double[] {1e9}, new double[] {Double.NaN}, new double[] {0})))
        .hasMessageContaining("finite");
    assertThat(refusal(() -> Sweep.of(new double[2], new double[1], new double[2])))
        .hasMessageContaining("2 frequencies");
    Sweep dead = Sweep.of(new double[] {1e9, 2e9}, new double[] {1, 0}, new double[2]);
    assertThat(refusal(() -> SweepAnalyzer.analyse(dead, THROUGH)))
        .hasMessageContaining("zero at 2.0E9 Hz");
  }

  @ParameterizedTest
  @EnumSource(Method.class)
  void anExpectedLengthTellsAnUndersampledSweep(Method method) {
    double limitS = 1 / (2 * method.passes() * 10e6);
    Length tooLong = Delay.ofSeconds(limitS * 1.001).lengthAt(V);
    Length shortEnough = Delay.ofSeconds(limitS * 0.999).lengthAt(V);
    Sweep sweep =
        SyntheticSweep.ofPasses(
            BAND, method.passes(), limitS * 0.999, method.idealEndPhaseDeg(), 1);
    SweepSettings settings = SweepSettings.of(method, V);

    UndersampledSweepException refusal =
        catchThrowableOfType(
            UndersampledSweepException.class,
            () -> SweepAnalyzer.analyse(sweep, settings.withExpectedLength(tooLong)));
    // 1 GHz at 10 MHz / 1.001: 100.1 steps, so 102 points.
    assertThat(refusal.sufficientPoints()).isEqualTo(102);
    assertThat(refusal.field()).isEqualTo("file");
    assertThat(SweepAnalyzer.analyse(sweep, settings.withExpectedLength(shortEnough)).turns())
        .isPresent();
  }

  @Test
  void aPhaseThatRisesTellsAnUndersampledSweep() {
    // 60 ns at 10 MHz: −216° per point look like +144°.
    Sweep sweep = SyntheticSweep.of(BAND, 60e-9, 0, 0);

    UndersampledSweepException refusal =
        catchThrowableOfType(
            UndersampledSweepException.class, () -> SweepAnalyzer.analyse(sweep, THROUGH));

    // 2·60 ns·1 GHz = 120 steps are just too few.
    assertThat(refusal.sufficientPoints()).isBetween(121L, 122L);
  }

  @Test
  void aGapTellsAnUndersampledSweep() {
    // 20 ns: 72° per 10 MHz, but 432° over the gap.
    double[] frequencyHz = new double[100];
    for (int i = 0; i < 100; i++) {
      frequencyHz[i] = 2e9 + 10e6 * i + (i < 50 ? 0 : 50e6);
    }
    Sweep sweep = SyntheticSweep.of(frequencyHz, 20e-9, 0, 0);

    assertThat(refusal(() -> SweepAnalyzer.analyse(sweep, THROUGH)))
        .isInstanceOf(UndersampledSweepException.class)
        .hasMessageContaining("widest step");
  }

  @Test
  void aLossyThinCableIsBelievedWhereTheExpectedLengthConfirmsIt() {
    double[] wide = SyntheticSweep.even(2e9, 18e9, 201);
    Length metre = Length.ofMetres(1);
    double delayS = metre.delayAt(V).seconds();
    Sweep usual = SyntheticSweep.of(wide, delayS, 0, 1.4);
    Sweep micro = SyntheticSweep.of(wide, delayS, 0, 3);

    assertThat(SweepAnalyzer.analyse(usual, THROUGH).physicalLength().metres())
        .isCloseTo(1, within(1e-9));
    assertThat(refusal(() -> SweepAnalyzer.analyse(micro, THROUGH)))
        .isInstanceOf(UndersampledSweepException.class)
        .hasMessageContaining("expectedLengthM");
    assertThat(SweepAnalyzer.analyse(micro, THROUGH.withExpectedLength(metre)).turns()).isPresent();
  }

  private static Sweep ofPoints(double... frequencyHz) {
    return Sweep.of(frequencyHz, new double[frequencyHz.length], new double[frequencyHz.length]);
  }

  private static InvalidQuantityException refusal(ThrowingCallable call) {
    return catchThrowableOfType(InvalidQuantityException.class, call);
  }
}
