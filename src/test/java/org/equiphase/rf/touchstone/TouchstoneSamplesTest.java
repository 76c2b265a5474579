package org.equiphase.rf.touchstone;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import org.equiphase.rf.Complex;
import org.junit.jupiter.api.Test;

/**
 * Validation against the sample files of the Touchstone specification (IBIS Open Forum, revision
 * 1.1 and version 2.0); see the README beside them.
 */
class TouchstoneSamplesTest {

  /** Revision 1.1, example 1; converted values recomputed. */
  @Test
  void magnitudeAndAngle() throws IOException {
    TouchstoneFile file = sample("rev11-example-1.s1p");

    assertThat(file.ports()).isEqualTo(1);
    assertThat(file.frequenciesHz()).containsExactly(2e6);
    assertClose(file.s(0, 1, 1), 0.874020295, -0.187948195, 6e-10);
    assertThat(file.comments()).containsExactly("example 1, one port");
    assertThat(file.warnings()).isEmpty();
  }

  /** Revision 1.1, example 4. */
  @Test
  void realAndImaginary() throws IOException {
    TouchstoneFile file = sample("rev11-example-4.s2p");

    assertThat(file.frequenciesHz()).containsExactly(1e9, 2e9, 10e9);
    assertThat(file.s(0, 1, 1).abs()).isCloseTo(0.410853, within(5e-7));
    assertThat(file.s(0, 1, 1).argumentDeg()).isCloseTo(-17.14272, within(5e-6));
    assertThat(file.s(0, 2, 1).abs()).isCloseTo(0.00212132, within(5e-9));
    assertThat(file.s(0, 2, 1).argumentDeg()).isCloseTo(-98.13010, within(5e-6));
    assertThat(file.s(2, 2, 2)).isEqualTo(Complex.of(0.3419, 0.3336));
  }

  /** Revision 1.1, example 8: S21 comes before S12, and noise begins where frequency falls. */
  @Test
  void portOrderAndNoise() throws IOException {
    TouchstoneFile file = sample("rev11-example-8.s2p");

    assertExample8(file);
    assertThat(file.referenceOhms()).containsExactly(50, 50);
  }

  /** Version 2.0, examples 17 and 19: the same network with keywords; Rn in ohm. */
  @Test
  void keywords() throws IOException {
    TouchstoneFile file = sample("v2-noise.s2p");

    assertExample8(file);
    assertThat(file.version()).isEqualTo(TouchstoneVersion.V2_0);
    assertThat(file.referenceOhms()).containsExactly(50, 25);
    assertThat(file.warnings()).isEmpty();
  }

  /** Impedances normalised to 75 Ω in version 1 are those in ohm of version 2. */
  @Test
  void impedances() throws IOException {
    TouchstoneFile v1 = sample("rev11-z.s1p");
    TouchstoneFile v2 = sample("v2-z.s1p");

    assertThat(v1.kind()).isEqualTo(ParameterKind.Z);
    for (int point = 0; point < 5; point++) {
      Complex z1 = impedance(v1.s(point, 1, 1), 75);
      Complex z2 = impedance(v2.s(point, 1, 1), 20);
      assertThat(z1.minus(z2).abs()).isLessThan(1e-10);
    }
    Complex first = impedance(v2.s(0, 1, 1), 20);
    assertThat(first.abs()).isCloseTo(74.25, within(1e-10));
    assertThat(first.argumentDeg()).isCloseTo(-4, within(1e-10));
  }

  private static Complex impedance(Complex s, double ohm) {
    return Complex.ONE.plus(s).dividedBy(Complex.ONE.minus(s)).times(ohm);
  }

  private static void assertExample8(TouchstoneFile file) {
    assertThat(file.frequenciesHz()).containsExactly(2e9, 22e9);
    assertClose(file.s(0, 2, 1), -3.286202, 1.394910, 5e-7);
    assertClose(file.s(0, 1, 2), 0.009676876, 0.038811829, 5e-10);
    assertClose(file.s(1, 2, 1), 0.995858, 0.835624, 5e-7);
    assertClose(file.s(1, 2, 2), 0.048807, -0.557869, 5e-7);
    assertThat(file.noise()).extracting(NoisePoint::frequencyHz).containsExactly(4e9, 18e9);
    assertThat(file.noise()).extracting(NoisePoint::noiseResistanceOhm).containsExactly(19.0, 20.0);
    assertThat(file.noise()).extracting(NoisePoint::minimumNoiseFigureDb).containsExactly(.7, 2.7);
    assertThat(file.noise().get(0).optimumSource().argumentDeg()).isCloseTo(69, within(1e-9));
  }

  private static void assertClose(Complex actual, double re, double im, double tolerance) {
    assertThat(actual.re()).isCloseTo(re, within(tolerance));
    assertThat(actual.im()).isCloseTo(im, within(tolerance));
  }

  private static TouchstoneFile sample(String name) throws IOException {
    try (InputStream stream =
        TouchstoneSamplesTest.class.getResourceAsStream("/touchstone/" + name)) {
      return TouchstoneReader.read(
          stream, TouchstoneReader.portsOfFileName(name), ReadLimits.USUAL);
    }
  }
}
