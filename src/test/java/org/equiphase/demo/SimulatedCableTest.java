package org.equiphase.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.Test;

/** The simulation that the demo's readings come from, against what any cable must do. */
class SimulatedCableTest {

  private static final double FREQUENCY_HZ = 2.8e9;

  private static final CableType LOSSLESS =
      new CableType(
          1,
          0,
          "lossless",
          0.695,
          0,
          50,
          0,
          0,
          List.of(new TemperaturePoint(0, 0), new TemperaturePoint(40, -400)),
          "");

  /** A passive network without loss returns all power (Pozar, Microwave Engineering, ch. 4.3). */
  @Test
  void losesNoPowerWithoutLoss() {
    Complex[][] s = cable(LOSSLESS, 0.2, 0.15).scattering(FREQUENCY_HZ, 23);

    assertThat(square(s[0][0]) + square(s[1][0])).isCloseTo(1, within(1e-12));
    assertThat(square(s[1][1]) + square(s[0][1])).isCloseTo(1, within(1e-12));
    Complex across = s[0][0].times(conjugate(s[0][1])).plus(s[1][0].times(conjugate(s[1][1])));
    assertThat(across.abs()).isCloseTo(0, within(1e-12));
  }

  /** Between two mismatches the phase ripples by up to asin(g1·g2) (common practice, no source). */
  @Test
  void ripplesAsFarAsTheMismatchesAllow() {
    double worstDeg = 0;
    for (double hertz = FREQUENCY_HZ; hertz < FREQUENCY_HZ + 200e6; hertz += 1e6) {
      Complex ripple =
          cable(LOSSLESS, 0.2, 0.15)
              .scattering(hertz, 23)[1][0]
              .dividedBy(cable(LOSSLESS, 0, 0).scattering(hertz, 23)[1][0]);
      worstDeg = Math.max(worstDeg, Math.abs(ripple.argumentDeg()));
    }
    assertThat(worstDeg).isCloseTo(Math.toDegrees(Math.asin(0.2 * 0.15)), within(0.01));
  }

  /** φ = −360·f·L/(v·c); 10 ppm/°C less length for each degree of warming. */
  @Test
  void turnsThePhaseByItsLengthAndTemperature() {
    double expectedDeg = -360 * FREQUENCY_HZ * 1.1 / (0.695 * 299_792_458.0);

    Complex cold = cable(LOSSLESS, 0, 0).scattering(FREQUENCY_HZ, 23)[1][0];
    Complex warm = cable(LOSSLESS, 0, 0).scattering(FREQUENCY_HZ, 33)[1][0];

    assertThat(cold.argumentDeg()).isCloseTo(Math.IEEEremainder(expectedDeg, 360), within(1e-6));
    assertThat(warm.dividedBy(cold).argumentDeg())
        .isCloseTo(-expectedDeg * 100e-6, within(-expectedDeg * 100e-6 * 1e-3));
  }

  /** Closed by Γ, a two-port shows S11 + S12·S21·Γ/(1 − S22·Γ) (any text on S-parameters). */
  @Test
  void showsItsEndInReflection() {
    SimulatedCable cable = cable(InventedShop.SEMI_RIGID, 0.1, 0);
    Complex[][] s = cable.scattering(FREQUENCY_HZ, 21);
    Complex end = Complex.ofPolarDeg(0.98, -37);

    Complex expected =
        s[0][0].plus(
            s[0][1].times(s[1][0]).times(end).dividedBy(Complex.ONE.minus(s[1][1].times(end))));

    assertThat(cable.reflection(FREQUENCY_HZ, 21, end).minus(expected).abs())
        .isCloseTo(0, within(1e-12));
  }

  private static SimulatedCable cable(CableType type, double nearStep, double farStep) {
    return new SimulatedCable(type, 23, 1100, 0.695, 0, nearStep, farStep);
  }

  private static double square(Complex value) {
    return value.abs() * value.abs();
  }

  private static Complex conjugate(Complex value) {
    return Complex.of(value.re(), -value.im());
  }
}
