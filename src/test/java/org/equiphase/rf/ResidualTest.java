package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Where a sweep departs from a pure delay, against departures put in by hand. */
class ResidualTest {
  private static final double DELAY_S = 12.3e-9;
  private static final double[] HERTZ = SyntheticSweep.even(2e9, 6e9, 801);

  @ParameterizedTest
  @CsvSource({"TRANSMISSION, 1", "REFLECTION_OPEN, 2"})
  void theFrequencyToBlameIsNamed(Method method, int passes) {
    // A bump in the middle of the band leaves the slope alone and lifts the line by its mean.
    double[] bumpDeg = new double[HERTZ.length];
    double meanDeg = 0;
    for (int i = 0; i < HERTZ.length; i++) {
      bumpDeg[i] = -5 * Math.exp(-Math.pow((HERTZ[i] - 4e9) / 0.1e9, 2));
      meanDeg += bumpDeg[i] / HERTZ.length;
    }
    double[] re = new double[HERTZ.length];
    double[] im = new double[HERTZ.length];
    for (int i = 0; i < HERTZ.length; i++) {
      Complex value = Complex.ofPolarDeg(0.9, passes * (bumpDeg[i] - 360 * HERTZ[i] * DELAY_S));
      re[i] = value.re();
      im[i] = value.im();
    }

    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            Sweep.of(HERTZ, re, im),
            SweepSettings.of(method, VelocityFactor.of(0.7)).withSpotsHz(List.of(3e9, 4e9)));

    assertThat(analysis.worstResidualHz()).isCloseTo(4e9, within(1.0));
    assertThat(analysis.worstResidualDeg()).isCloseTo(-5 - meanDeg, within(1e-7));
    assertThat(analysis.spots().get(0).residualDeg()).isCloseTo(-meanDeg, within(1e-7));
    assertThat(analysis.spots().get(1).residualDeg()).isCloseTo(-5 - meanDeg, within(1e-7));
    double sum = 0;
    for (double residualDeg : analysis.trace().residualsDeg()) {
      sum += residualDeg * residualDeg;
    }
    assertThat(Math.sqrt(sum / HERTZ.length)).isCloseTo(analysis.fitResidualDeg(), within(1e-9));
  }

  /**
   * A line between two mismatches, exp(−jθ)/(1 − g1·g2·exp(−2jθ)), has a phase ripple of
   * asin(g1·g2) at most, and reaches it (any text on signal flow graphs). VSWR 1.2 and 1.2:
   * 0.4735°, computed from g = 1/11.
   */
  @ParameterizedTest
  @CsvSource({"1.2, 1.2, 0.4735", "1.5, 1.2, 1.0418", "2, 2, 6.3794"})
  void mismatchRippleStaysInItsBound(double vswr1, double vswr2, double boundDeg) {
    assertThat(Mismatch.maxPhaseErrorDegOfVswr(vswr1, vswr2)).isCloseTo(boundDeg, within(6e-5));
    double product = Mismatch.gammaOfVswr(vswr1) * Mismatch.gammaOfVswr(vswr2);
    double[] re = new double[HERTZ.length];
    double[] im = new double[HERTZ.length];
    for (int i = 0; i < HERTZ.length; i++) {
      double thetaDeg = 360 * HERTZ[i] * DELAY_S;
      Complex value =
          Complex.ofPolarDeg(1, -thetaDeg)
              .dividedBy(Complex.ONE.minus(Complex.ofPolarDeg(product, -2 * thetaDeg)));
      re[i] = value.re();
      im[i] = value.im();
    }

    SweepAnalysis analysis =
        SweepAnalyzer.analyse(
            Sweep.of(HERTZ, re, im), SweepSettings.of(Method.TRANSMISSION, VelocityFactor.of(0.7)));

    // Over some 98 periods of ripple the line hardly follows it.
    assertThat(Math.abs(analysis.worstResidualDeg()) / boundDeg).isBetween(0.97, 1.02);
  }

  @Test
  void aVswrBelowOneIsRefused() {
    assertThatThrownBy(() -> Mismatch.maxPhaseErrorDegOfVswr(0.9, 1.2))
        .isInstanceOf(InvalidQuantityException.class);
  }
}
