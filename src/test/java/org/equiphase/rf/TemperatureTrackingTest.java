package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.equiphase.rf.TemperatureTracking.Cable;
import org.equiphase.rf.TemperatureTracking.Spread;
import org.junit.jupiter.api.Test;

/** Figures are worked by hand from φ·ppm: phase is proportional to electrical length. */
class TemperatureTrackingTest {

  private static final PhaseTemperatureCurve KNEE =
      PhaseTemperatureCurve.of(new double[] {-20, 20, 60}, new double[] {400, 0, -100});
  private static final PhaseTemperatureCurve FLAT =
      PhaseTemperatureCurve.of(new double[] {-20, 60}, new double[] {40, -40});

  @Test
  void cablesOfOneTypeAndLengthTrack() {
    Spread spread =
        TemperatureTracking.greatest(
            List.of(new Cable(KNEE, -5000), new Cable(KNEE, -5000)), 20, -20, 60);
    assertThat(spread.spreadDeg()).isZero();
  }

  /** 5000° and 5500° at 400 ppm: 2.0° and 2.2°. */
  @Test
  void cablesOfOneTypeAndDifferentLengthComeApartByTheDifference() {
    Spread spread =
        TemperatureTracking.greatest(
            List.of(new Cable(KNEE, -5000), new Cable(KNEE, -5500)), 20, -20, 60);
    assertThat(spread.spreadDeg()).isCloseTo(0.2, within(1e-9));
    assertThat(spread.temperatureC()).isEqualTo(-20);
  }

  /** At −20 °C: 5000°·(400 − 40) ppm, the second curve's reference being at 20 °C too: 0 ppm. */
  @Test
  void cablesOfDifferentTypesComeApartMostAtACurvesPoint() {
    List<Cable> cables = List.of(new Cable(KNEE, -5000), new Cable(FLAT, -5000));
    Spread spread = TemperatureTracking.greatest(cables, 20, -20, 60);
    assertThat(spread.spreadDeg()).isCloseTo(5000 * (400 - 40) * 1e-6, within(1e-6));
    assertThat(spread.temperatureC()).isEqualTo(-20);
    for (int celsius = -20; celsius <= 60; celsius++) {
      assertThat(TemperatureTracking.spreadDeg(cables, 20, celsius))
          .isLessThanOrEqualTo(spread.spreadDeg() + 1e-12);
    }
  }

  @Test
  void outsideACurveNothingIsKnown() {
    List<Cable> cables = List.of(new Cable(FLAT, -5000));
    assertThatThrownBy(() -> TemperatureTracking.greatest(cables, 20, -40, 60))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("-40");
    assertThatThrownBy(() -> TemperatureTracking.greatest(cables, 20, 60, 50))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("highC");
  }

  @Test
  void steepestSlopeOfACurve() {
    assertThat(KNEE.steepestPpmPerC(19, 19)).isEqualTo(10);
    assertThat(KNEE.steepestPpmPerC(19, 21)).isEqualTo(10);
    assertThat(KNEE.steepestPpmPerC(30, 40)).isEqualTo(2.5);
    assertThat(KNEE.steepestPpmPerC(59.5, 60.5)).isEqualTo(2.5);
    assertThatThrownBy(() -> KNEE.steepestPpmPerC(21, 20))
        .isInstanceOf(InvalidQuantityException.class);
  }
}
