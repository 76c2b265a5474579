package org.equiphase.measurement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.LocalDate;
import java.util.List;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Budget;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.catalog.EndStandard;
import org.equiphase.catalog.Instrument;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.rf.Method;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.junit.jupiter.api.Test;

/** What a bench's budget makes of a reading; JCGM 100:2008, 5.1.2 for the root sum of squares. */
class ReadingUncertaintyTest {

  private static final CableType CABLE =
      new CableType(
          1,
          1,
          "",
          0.7,
          0.001,
          50,
          0,
          0,
          List.of(new TemperaturePoint(10, 300), new TemperaturePoint(40, -300)),
          "");

  @Test
  void aStatedFigureAndTheBenchsTermsAddAsRootSumOfSquares() {
    SpotUncertainty u =
        spot(Method.TRANSMISSION, new Budget(null, 0.15, 0.1, 0), 0.2).uncertainty();
    assertThat(u.instrumentDeg()).isEqualTo(0.2);
    assertThat(u.budget(0).standardUncertainty())
        .isCloseTo(Math.sqrt(0.04 + 0.0225 + 0.01), within(1e-12));
    assertThat(u.budget(0.3).standardUncertainty())
        .isCloseTo(Math.sqrt(0.04 + 0.0225 + 0.01 + 0.09), within(1e-12));
  }

  /** 0.1 dB is 0.6635° (the form of EURAMET cg-12); as an expanded figure, half of it counts. */
  @Test
  void aMagnitudeFigureTakesThePlaceOfTheStatedOne() {
    SpotUncertainty u = spot(Method.TRANSMISSION, new Budget(0.1, 0, 0, 0), 0.2).uncertainty();
    assertThat(u.instrumentDeg()).isCloseTo(0.6635 / 2, within(5e-5));
  }

  @Test
  void inReflectionTheOneWayPhaseHasHalfOfWhatIsShown() {
    SpotUncertainty u =
        spot(Method.REFLECTION_OPEN, new Budget(null, 0.15, 0.1, 0), 0.2).uncertainty();
    assertThat(u.instrumentDeg()).isEqualTo(0.1);
    assertThat(u.connectorDeg()).isEqualTo(0.075);
    assertThat(u.flexureDeg()).isEqualTo(0.05);
  }

  /** 1 m of v = 0.7 at 1 GHz is 1715.5°; 20 ppm per °C and 0.5 °C make 0.01716°. */
  @Test
  void theThermometerCountsByTheCurvesSlopeAndIsShared() {
    SpotUncertainty u = spot(Method.TRANSMISSION, new Budget(null, 0, 0, 0.5), 0.2).uncertainty();
    assertThat(u.temperatureDeg()).isCloseTo(0.01716, within(1e-5));
    assertThat(u.budget(0).commonStandardUncertainty()).isEqualTo(u.temperatureDeg());
  }

  private static Reading.Spot spot(Method method, Budget budget, double statedDeg) {
    Bench bench =
        new Bench(
            1,
            1,
            "Bench",
            new Instrument(1, 1, "", "", statedDeg, LocalDate.EPOCH, ""),
            method.isReflection()
                ? new EndStandard(
                    1, 1, "", EndStandard.Kind.OPEN, 0, 0, List.of(0.0, 0.0, 0.0, 0.0), "")
                : null,
            List.of(),
            null,
            1,
            60,
            budget,
            budget,
            LocalDate.EPOCH,
            "");
    Specification specification =
        new Specification(
            1,
            "",
            null,
            0,
            0,
            method,
            Basis.NOMINAL,
            Turns.ABSOLUTE,
            1000,
            1,
            null,
            0,
            0.1,
            0,
            0.02,
            null,
            null,
            0.3,
            null,
            25,
            null,
            null,
            DecisionRule.SIMPLE,
            1,
            List.of(new FrequencySpecification(1e9, 3, null, null, null)));
    double shownDeg = -360 * 1e9 / (0.7 * 299_792_458) * method.passes() % 360;
    return new Reducer(specification, CABLE, null, null, bench)
        .typed(
            new TypedReading(
                "S", 1, null, 25, null, List.of(new TypedSpot(1e9, shownDeg, null, null))))
        .spots()
        .get(0);
  }
}
