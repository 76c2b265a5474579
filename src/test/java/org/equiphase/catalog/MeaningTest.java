package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.equiphase.catalog.LineStretcher.Geometry;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What catalog entries mean in nanoseconds, degrees and decibels. */
class MeaningTest {

  // Computed from c = 299 792 458 m/s (SI Brochure, defining constants), six decimals.
  @ParameterizedTest
  @CsvSource({
    "1.000, 3.335641, 1140.789",
    "0.700, 4.765201, 1629.699",
    "0.695, 4.799483, 1641.423",
    "0.660, 5.054001, 1728.468",
    "0.659, 5.061671, 1731.091"
  })
  void cableDelayAndPhase(double velocityFactor, double nsPerM, double degPerMAt950Mhz) {
    CableType type = cable(velocityFactor, 0, 0, List.of());
    assertThat(type.nominalDelayNsPerM()).isCloseTo(nsPerM, within(1e-6));
    assertThat(1000 * type.phaseDegPerMm(950e6)).isCloseTo(degPerMAt950Mhz, within(1e-3));
  }

  // The two laws are those of skin effect and of a constant loss tangent; at 4 GHz the parts are
  // 2 and 4 times those at 1 GHz.
  @Test
  void cableLoss() {
    assertThat(cable(0.7, 0.3, 0.02, List.of()).lossDbPerM(4e9)).isCloseTo(0.68, within(1e-12));
  }

  @Test
  void cableCurveIsThereOnlyWhereGiven() {
    assertThat(cable(0.7, 0, 0, List.of()).phaseTemperatureCurve()).isEmpty();
    List<TemperaturePoint> points =
        List.of(new TemperaturePoint(10, 100), new TemperaturePoint(20, 0));
    assertThat(cable(0.7, 0, 0, points).phaseTemperatureCurve().orElseThrow().ppmAt(15))
        .isCloseTo(50, within(1e-12));
  }

  // 0.876586 mm of air line turn one degree at 950 MHz (c as above); a folded line moves half that.
  @Test
  void stretcherByGeometry() {
    assertThat(1 / stretcher(Geometry.STRAIGHT, 1, List.of()).phaseDegPerMm(950e6))
        .isCloseTo(0.876586, within(1e-6));
    assertThat(1 / stretcher(Geometry.FOLDED, 1, List.of()).phaseDegPerMm(950e6))
        .isCloseTo(0.876586 / 2, within(1e-6));
    assertThat(stretcher(Geometry.FOLDED, 1.00027, List.of()).electricalMmPerMm())
        .isCloseTo(2.00054, within(1e-12));
  }

  @Test
  void stretcherByCalibrationTable() {
    List<CalibrationPoint> table =
        List.of(
            new CalibrationPoint(0, 5),
            new CalibrationPoint(40, 70),
            new CalibrationPoint(100, 205));
    LineStretcher stretcher = stretcher(Geometry.FOLDED, 1, table);
    assertThat(stretcher.electricalMmPerMm()).isCloseTo(2, within(1e-12));
    assertThat(stretcher.toRf().addedElectricalLengthMm(0, 20)).isCloseTo(32.5, within(1e-12));
  }

  // 50 fF on 50 ohm at 1 GHz: -2·atan(2π·1e9·50e-15·50) = -1.79985 degrees.
  @Test
  void openWithFringingCapacitance() {
    EndStandard open =
        new EndStandard(0, 0, "", EndStandard.Kind.OPEN, 0, 0, List.of(50.0, 0.0, 0.0, 0.0), "");
    assertThat(open.toRf().phaseDeg(1e9, 50)).isCloseTo(-1.79985, within(1e-5));
  }

  // 100 pH on 50 ohm at 1 GHz: 180 - 2·atan(2π·1e9·100e-12/50) = 178.56008; 25 ps twice: -18
  // degrees.
  @Test
  void shortWithInductanceAndOffset() {
    EndStandard shorted =
        new EndStandard(0, 0, "", EndStandard.Kind.SHORT, 25, 0, List.of(100.0, 0.0, 0.0, 0.0), "");
    assertThat(shorted.toRf().phaseDeg(1e9, 50)).isCloseTo(160.56008, within(1e-5));
  }

  @Test
  void benchAddsUpItsAdapters() {
    Bench bench =
        new Bench(
            0,
            0,
            "",
            new Instrument(1, 1, "", "", 0.1, LocalDate.EPOCH, ""),
            null,
            List.of(new Adapter(1, 1, "", 60, 0.02, ""), new Adapter(2, 1, "", -10, 0.01, "")),
            null,
            1,
            60,
            Budget.INSTRUMENT_ONLY,
            Budget.INSTRUMENT_ONLY,
            LocalDate.EPOCH,
            "");
    assertThat(bench.referencePlane().phaseDeg(1e9)).isCloseTo(-18, within(1e-9));
    assertThat(bench.referencePlane().lossDb(4e9)).isCloseTo(0.06, within(1e-12));
  }

  private static CableType cable(
      double velocityFactor, double skin, double dielectric, List<TemperaturePoint> curve) {
    return new CableType(0, 0, "", velocityFactor, 0, 50, skin, dielectric, curve, "");
  }

  private static LineStretcher stretcher(
      Geometry geometry, double airIndex, List<CalibrationPoint> table) {
    return new LineStretcher(0, 0, "", geometry, airIndex, 0, 100, 0, 100, 0.5, table, null, "");
  }
}
