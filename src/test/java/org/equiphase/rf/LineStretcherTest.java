package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.equiphase.rf.LineStretcher.Geometry;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class LineStretcherTest {
  private static final Frequency F = Frequency.ofMegahertz(950);

  static Stream<CsvRows.Row> simulated() {
    return CsvRows.of("/stretcher/expected.csv");
  }

  /** Validation against scikit-rf and ngspice; see the README beside the table. */
  @ParameterizedTest
  @MethodSource("simulated")
  void aSlideTurnsThePhaseAsInSimulation(CsvRows.Row row) {
    LineStretcher stretcher =
        LineStretcher.of(geometry(row.number("factor") == 2), 1, 0, 1000, 1e-6);
    Frequency frequency = Frequency.ofHertz(row.number("f_Hz"));
    double slideMm = row.number("slide_mm");

    assertThat(stretcher.addedElectricalLengthMm(0, slideMm))
        .isCloseTo(row.number("added_length_mm"), within(1e-9));
    StretcherSetting oneWay =
        stretcher.solve(frequency, -row.number("transmission_change_deg"), 1, 0);
    StretcherSetting twoWay =
        stretcher.solve(frequency, -row.number("reflection_rotation_deg"), 2, 0);
    // Settings are rounded to the resolution of 1e-6 mm.
    assertThat(oneWay.settingMm()).isCloseTo(slideMm, within(6e-7));
    assertThat(twoWay.settingMm()).isCloseTo(slideMm, within(6e-7));
  }

  /**
   * The U shape adds twice the slide: 4·0.876586 mm/° at 950 MHz, half of it per degree of slide.
   */
  @Test
  void theSignLengthensACableThatIsTooShort() {
    LineStretcher folded = LineStretcher.of(Geometry.FOLDED, 1, 0, 280, 0.5);

    StretcherSetting setting = folded.solve(F, 90, 1, 40);

    assertThat(setting.settingMm()).isEqualTo(79.5);
    assertThat(setting.slideMm()).isEqualTo(39.5);
    assertThat(setting.addedElectricalLengthMm()).isEqualTo(79);
    // 78.892752 mm were wanted; 0.107248 mm too many leave −0.107248/0.876586 degrees.
    assertThat(setting.residualDeg()).isCloseTo(-0.122347, within(1e-6));
    assertThat(setting.reachable()).isTrue();
    assertThat(setting.turns()).isZero();
    assertThat(folded.solve(F, -30, 1, 40).slideMm()).isNegative();
  }

  @Test
  void airShortensTheSlide() {
    LineStretcher vacuum = LineStretcher.of(Geometry.STRAIGHT, 1, 0, 2000, 1e-6);
    LineStretcher air =
        LineStretcher.of(Geometry.STRAIGHT, LineStretcher.USUAL_AIR_INDEX, 0, 2000, 1e-6);

    assertThat(air.solve(F, 360, 1, 0).slideMm() * 1.00027)
        .isCloseTo(vacuum.solve(F, 360, 1, 0).slideMm(), within(2e-6));
  }

  @ParameterizedTest
  @CsvSource({
    // Range 0 to 400 mm straight, wavelength 315.571008 mm, from the setting 100 mm.
    "1, -180, 257.8, 1",
    "1, 350, 91.2, -1",
    "1, -100, 12.3, 0",
    "2, 350, 253.4, 0",
    "2, -350, 262.2, 1",
  })
  void wholeWavelengthsComeInWhereTheExactSettingIsOutOfRange(
      int passes, double error, double settingMm, int turns) {
    LineStretcher stretcher = LineStretcher.of(Geometry.STRAIGHT, 1, 0, 400, 0.1);

    StretcherSetting setting = stretcher.solve(F, error, passes, 100);

    assertThat(setting.settingMm()).isCloseTo(settingMm, within(1e-9));
    assertThat(setting.turns()).isEqualTo(turns);
    assertThat(setting.reachable()).isTrue();
    // Half a step of 0.05 mm is 0.057°, twice as much in reflection.
    assertThat(Math.abs(setting.residualDeg())).isLessThanOrEqualTo(0.0571 * passes);
  }

  @Test
  void anUnreachableErrorGoesToTheNearestEndAndSaysWhatIsLeft() {
    LineStretcher stretcher = LineStretcher.of(Geometry.STRAIGHT, 1, 10, 50, 0.5);

    StretcherSetting setting = stretcher.solve(F, 100, 1, 30);

    assertThat(setting.reachable()).isFalse();
    assertThat(setting.settingMm()).isEqualTo(50);
    assertThat(setting.residualDeg()).isCloseTo(100 - 20 / 0.876586, within(1e-4));
    assertThat(setting.turns()).isZero();
    assertThat(stretcher.solve(F, -60, 1, 30).settingMm()).isEqualTo(10);
  }

  @Test
  void withinHalfAStepBeyondTheEndIsReachable() {
    LineStretcher stretcher = LineStretcher.of(Geometry.STRAIGHT, 1, 0, 50, 0.5);

    assertThat(stretcher.solve(F, 50.24 / 0.876586, 1, 0).reachable()).isTrue();
    assertThat(stretcher.solve(F, 50.26 / 0.876586, 1, 0).reachable()).isFalse();
  }

  @Test
  void settingsAreMarksOfTheScaleWithinTheRange() {
    LineStretcher stretcher = LineStretcher.of(Geometry.STRAIGHT, 1, 0.3, 50.3, 0.5);

    assertThat(stretcher.solve(F, 50.3 / 0.876586, 1, 0.3).settingMm()).isEqualTo(50);
    assertThat(stretcher.solve(F, 0, 1, 0.3).settingMm()).isEqualTo(0.5);
    assertThat(LineStretcher.of(Geometry.STRAIGHT, 1, 0, 1, 0.1).solve(F, 0.34, 1, 0).settingMm())
        .isEqualTo(0.3);
    // A range between two marks leaves its ends.
    assertThat(LineStretcher.of(Geometry.STRAIGHT, 1, 0.1, 0.4, 5).solve(F, 9, 1, 0.1).settingMm())
        .isEqualTo(0.4);
  }

  @Test
  void settingsStayWhereTheLockHolds() {
    LineStretcher stretcher =
        LineStretcher.of(Geometry.STRAIGHT, 1, 0, 100, 0.5).withLockRange(20, 80);

    assertThat(stretcher.solve(F, 60, 1, 40).settingMm()).isEqualTo(80);
    assertThat(stretcher.solve(F, 60, 1, 40).reachable()).isFalse();
    assertThat(stretcher.solve(F, 10, 1, 10).settingMm()).isEqualTo(20);
  }

  @Test
  void aCalibrationTableReplacesGeometry() {
    StretcherCalibration table =
        StretcherCalibration.of(new double[] {0, 10, 20}, new double[] {100, 121, 139});
    LineStretcher stretcher =
        LineStretcher.of(Geometry.FOLDED, 1, 0, 40, 0.1).withCalibration(table);

    assertThat(stretcher.addedElectricalLengthMm(5, 15)).isCloseTo(130 - 110.5, within(1e-12));
    StretcherSetting setting = stretcher.solve(F, 19.5 / 0.8765861, 1, 5);
    assertThat(setting.settingMm()).isEqualTo(15);
    assertThat(setting.residualDeg()).isCloseTo(0, within(1e-5));
    // No extrapolation: the table ends at 20 mm, though the scale goes to 40 mm.
    assertThat(stretcher.highestSettingMm()).isEqualTo(20);
    assertThat(stretcher.solve(F, 60, 1, 5).settingMm()).isEqualTo(20);
    assertThat(stretcher.solve(F, 60, 1, 5).reachable()).isFalse();
    assertThat(refusal(() -> stretcher.solve(F, 1, 1, 30)).field()).isEqualTo("currentMm");
  }

  @Test
  void aScaleThatRunsBackwardsWorks() {
    LineStretcher stretcher =
        LineStretcher.of(Geometry.STRAIGHT, 1, 0, 20, 0.1)
            .withCalibration(
                StretcherCalibration.of(new double[] {0, 20}, new double[] {120, 100}));

    assertThat(stretcher.solve(F, 5 / 0.8765861, 1, 10).settingMm()).isEqualTo(5);
    assertThat(stretcher.solve(F, 90, 1, 10).settingMm()).isEqualTo(0);
  }

  @Test
  void marksLieEvenlyOverTheScale() {
    LineStretcher stretcher =
        LineStretcher.of(Geometry.STRAIGHT, 1, 0.3, 2.2, 0.5).withLockRange(1, 2);

    assertThat(stretcher.marksMm(100)).containsExactly(0.5, 1.0, 1.5, 2.0);
    assertThat(stretcher.marksMm(2)).containsExactly(0.5, 2.0);
    assertThat(LineStretcher.of(Geometry.STRAIGHT, 1, 0, 60, 0.1).marksMm(5))
        .containsExactly(0.0, 15.0, 30.0, 45.0, 60.0);
    assertThat(LineStretcher.of(Geometry.STRAIGHT, 1, 0.1, 0.4, 5).marksMm(5))
        .containsExactly(0.1, 0.4);
  }

  @Test
  void betweenItsCornersAScaleRunsStraight() {
    LineStretcher stretcher =
        LineStretcher.of(Geometry.FOLDED, 1, 5, 40, 0.1)
            .withCalibration(
                StretcherCalibration.of(new double[] {0, 10, 20}, new double[] {100, 121, 139}));

    assertThat(stretcher.cornersMm()).containsExactly(5.0, 10.0, 20.0);
    assertThat(stretcher.marksMm(2)).containsExactly(5.0, 20.0);
    assertThat(LineStretcher.of(Geometry.FOLDED, 1, 5, 40, 0.1).cornersMm())
        .containsExactly(5.0, 40.0);
  }

  @Property(tries = 500, seed = "1")
  void aReachableSettingLeavesLessThanHalfAStep(
      @ForAll @DoubleRange(min = -2000, max = 2000) double error,
      @ForAll @IntRange(min = 1, max = 2) int passes,
      @ForAll @IntRange(min = 0, max = 560) int currentHalves) {
    LineStretcher stretcher = LineStretcher.of(Geometry.FOLDED, 1.00027, 0, 280, 0.5);
    double currentMm = currentHalves / 2.0;
    StretcherSetting setting = stretcher.solve(F, error, passes, currentMm);

    double degreesPerMm = 360 * passes / F.wavelength().inMillimetres() * 2 * 1.00027;
    assertThat(setting.settingMm()).isBetween(0.0, 280.0);
    // The range of 560 mm is longer than the wavelength, so a setting always exists.
    assertThat(setting.reachable()).isTrue();
    assertThat(Math.abs(setting.residualDeg())).isLessThanOrEqualTo(0.2501 * degreesPerMm);
    double left = error - setting.slideMm() * degreesPerMm + 360.0 * passes * setting.turns();
    assertThat(setting.residualDeg()).isCloseTo(left, within(1e-7));
  }

  @ParameterizedTest
  @CsvSource({
    "0.99, 0, 100, 0.5, 10, airIndex",
    "NaN, 0, 100, 0.5, 10, airIndex",
    "1, NaN, 100, 0.5, 10, minMm",
    "1, 0, Infinity, 0.5, 10, maxMm",
    "1, 100, 0, 0.5, 10, maxMm",
    "1, 0, 100, 0, 10, resolutionMm",
    "1, 0, 100, -1, 10, resolutionMm",
    "1, 0, 100, 0.5, 101, currentMm",
    "1, 0, 100, 0.5, NaN, currentMm",
  })
  void valuesOutOfRangeAreRefusedByName(
      double airIndex,
      double minMm,
      double maxMm,
      double resolutionMm,
      double currentMm,
      String field) {
    InvalidQuantityException refusal =
        refusal(
            () ->
                LineStretcher.of(Geometry.STRAIGHT, airIndex, minMm, maxMm, resolutionMm)
                    .solve(F, 1, 1, currentMm));

    assertThat(refusal.field()).isEqualTo(field);
    assertThat(refusal).hasMessageContaining(field);
  }

  @Test
  void aTableThatIsNotMonotoneIsRefused() {
    assertThat(
            refusal(
                    () ->
                        StretcherCalibration.of(new double[] {0, 10, 20}, new double[] {0, 21, 20}))
                .field())
        .isEqualTo("calibration");
    assertThat(refusal(() -> StretcherCalibration.of(new double[] {0, 0}, new double[] {0, 20})))
        .hasMessageContaining("ascend");
    assertThat(refusal(() -> StretcherCalibration.of(new double[] {0}, new double[] {0})))
        .hasMessageContaining("two rows");
  }

  private static InvalidQuantityException refusal(
      org.assertj.core.api.ThrowableAssert.ThrowingCallable call) {
    return catchThrowableOfType(InvalidQuantityException.class, call);
  }

  private static Geometry geometry(boolean folded) {
    return folded ? Geometry.FOLDED : Geometry.STRAIGHT;
  }
}
