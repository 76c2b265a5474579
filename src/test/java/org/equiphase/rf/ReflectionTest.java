package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class ReflectionTest {
  private static final Frequency F = Frequency.ofMegahertz(950);

  static Stream<CsvRows.Row> simulated() {
    return CsvRows.of("/stretcher/expected.csv");
  }

  /** Validation against scikit-rf and ngspice; see the README beside the table. */
  @ParameterizedTest
  @MethodSource("simulated")
  void agreesWithSimulation(CsvRows.Row row) {
    Reflection seen =
        Reflection.throughLine(
            Frequency.ofHertz(row.number("f_Hz")),
            row.number("z0_ohm"),
            Complex.of(row.number("load_re_ohm"), row.number("load_im_ohm")),
            Length.ofMillimetres(row.number("added_length_mm")),
            VelocityFactor.VACUUM,
            0);

    // The table has 12 digits.
    for (String source : new String[] {"", "ngspice_"}) {
      assertThat(seen.gamma().re()).isCloseTo(row.number(source + "gamma_re"), within(1e-11));
      assertThat(seen.gamma().im()).isCloseTo(row.number(source + "gamma_im"), within(1e-11));
      assertThat(impedance(seen).re()).isCloseTo(row.number(source + "zin_re_ohm"), within(1e-8));
      assertThat(impedance(seen).im()).isCloseTo(row.number(source + "zin_im_ohm"), within(1e-8));
    }
    assertThat(seen.vswr().orElseThrow()).isCloseTo(row.number("vswr"), within(1e-10));
    assertThat(seen.rotationDeg()).isCloseTo(row.number("reflection_rotation_deg"), within(1e-8));
  }

  /** A quarter wave turns ZL into Z0²/ZL (any text on transmission lines). */
  @ParameterizedTest
  @CsvSource({"25, 100", "75, 33.333333", "100, 25"})
  void aQuarterWaveInvertsTheLoad(double loadOhm, double seenOhm) {
    // λ/4 at 950 MHz and v = 0.695 is 54.8305 mm.
    Length quarter = Length.ofMetres(F.wavelength().metres() * 0.695 / 4);
    assertThat(quarter.inMillimetres()).isCloseTo(54.8305, within(5e-5));

    Reflection seen =
        Reflection.throughLine(F, 50, Complex.of(loadOhm, 0), quarter, VelocityFactor.of(0.695), 0);

    assertThat(impedance(seen).re()).isCloseTo(seenOhm, within(1e-6));
    assertThat(impedance(seen).im()).isCloseTo(0, within(1e-9));
    assertThat(seen.rotationDeg()).isCloseTo(-180, within(1e-9));
  }

  /** Pozar, Microwave Engineering, example 2.2; its figures from memory, arithmetic confirmed. */
  @Test
  void pozarExample() {
    Length length = Length.ofMetres(0.3 * F.wavelength().metres());

    Reflection seen =
        Reflection.throughLine(F, 100, Complex.of(40, 70), length, VelocityFactor.VACUUM, 0);

    assertThat(impedance(seen).re()).isCloseTo(36.534, within(5e-4));
    assertThat(impedance(seen).im()).isCloseTo(-61.119, within(5e-4));
    assertThat(seen.vswr().orElseThrow()).isCloseTo(3.866, within(5e-4));
    assertThat(seen.returnLossDb().orElseThrow()).isCloseTo(4.597, within(2e-3));
    Complex load = Reflection.gammaOfLoad(Complex.of(40, 70), 100);
    assertThat(load.abs()).isCloseTo(0.5890, within(5e-5));
    assertThat(load.argumentDeg()).isCloseTo(104.04, within(5e-3));
  }

  @Property(tries = 300, seed = "1")
  void halfAWaveChangesNothingAndTheVswrNeverChanges(
      @ForAll @DoubleRange(min = 1, max = 500) double re,
      @ForAll @DoubleRange(min = -500, max = 500) double im,
      @ForAll @DoubleRange(min = 0, max = 2) double metres) {
    Complex load = Complex.of(re, im);
    Reflection none = through(load, 0);
    Reflection half = through(load, F.wavelength().metres() / 2);
    Reflection any = through(load, metres);

    assertThat(half.gamma().minus(none.gamma()).abs()).isLessThan(1e-12);
    double vswr = none.vswr().orElseThrow();
    assertThat(any.vswr().orElseThrow()).isCloseTo(vswr, within(1e-10 * vswr * vswr));
  }

  @Test
  void attenuationCountsTwice() {
    Reflection seen =
        Reflection.throughLine(
            F, 50, Complex.of(100, 0), Length.ofMetres(3), VelocityFactor.VACUUM, 0.5);

    // 9.542 dB of the load and twice 1.5 dB of line.
    assertThat(seen.returnLossDb().orElseThrow()).isCloseTo(12.5424, within(1e-4));
  }

  @Test
  void infiniteValuesAreAbsent() {
    Reflection shorted = through(Complex.ZERO, 0);
    assertThat(shorted.vswr()).isEmpty();
    assertThat(shorted.impedanceOhm()).isEqualTo(Complex.ZERO);
    assertThat(shorted.returnLossDb().orElseThrow()).isEqualTo(0);

    Reflection openedByQuarterWave = through(Complex.ZERO, F.wavelength().metres() / 4);
    assertThat(openedByQuarterWave.impedanceOhm()).isNull();
    assertThat(openedByQuarterWave.vswr()).isEmpty();

    Reflection matched = through(Complex.of(50, 0), 0.1);
    assertThat(matched.returnLossDb()).isEmpty();
    assertThat(matched.vswr().orElseThrow()).isEqualTo(1);

    assertThat(through(Complex.of(0, 33), 0.1).vswr()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({
    "50, -50, 0, 0, 0, loadOhm.re",
    "50, NaN, 0, 0, 0, loadOhm.re",
    "50, 1, Infinity, 0, 0, loadOhm.im",
    "0, 1, 0, 0, 0, referenceOhm",
    "50, 1, 0, 1, -0.1, attenuationDbPerM",
    "50, 1, 0, -1, 10, addedLengthMm",
  })
  void valuesOutOfRangeAreRefusedByName(
      double referenceOhm, double re, double im, double metres, double attenuation, String field) {
    InvalidQuantityException refusal =
        catchThrowableOfType(
            InvalidQuantityException.class,
            () ->
                Reflection.throughLine(
                    F,
                    referenceOhm,
                    Complex.of(re, im),
                    Length.ofMetres(metres),
                    VelocityFactor.VACUUM,
                    attenuation));

    assertThat(refusal.field()).isEqualTo(field);
  }

  /** Mismatch relations, arithmetic of their definitions. */
  @ParameterizedTest
  @CsvSource({
    "10, 0.316228, 1.92495, 0.45757, 18.4349",
    "14, 0.199526, 1.49852, 0.17643, 11.5093",
    "20, 0.100000, 1.22222, 0.04365, 5.7392",
    "26, 0.050119, 1.10553, 0.01092, 2.8728",
    "30, 0.031623, 1.06531, 0.00435, 1.8122",
    "40, 0.010000, 1.02020, 0.00043, 0.57297",
  })
  void mismatchRelations(double returnLossDb, double g, double vswr, double lossDb, double deg) {
    double gamma = Mismatch.gammaOfReturnLossDb(returnLossDb);

    assertThat(gamma).isCloseTo(g, within(5e-7));
    assertThat(Mismatch.vswrOfGamma(gamma)).isCloseTo(vswr, within(5e-6));
    assertThat(Mismatch.mismatchLossDb(gamma)).isCloseTo(lossDb, within(6e-6));
    assertThat(Mismatch.maxPhaseErrorDeg(gamma)).isCloseTo(deg, within(6e-5));
    assertThat(Mismatch.gammaOfVswr(Mismatch.vswrOfGamma(gamma))).isCloseTo(g, within(5e-7));
    assertThat(Mismatch.returnLossDbOfGamma(gamma)).isCloseTo(returnLossDb, within(1e-12));
  }

  /** Two ends of VSWR 1.2: 0.4735°. */
  @Test
  void twoMismatchesInteract() {
    double gamma = Mismatch.gammaOfVswr(1.2);

    assertThat(Mismatch.maxPhaseErrorDeg(gamma, gamma)).isCloseTo(0.4735, within(5e-5));
  }

  private static Complex impedance(Reflection seen) {
    return Objects.requireNonNull(seen.impedanceOhm());
  }

  private static Reflection through(Complex load, double metres) {
    return Reflection.throughLine(F, 50, load, Length.ofMetres(metres), VelocityFactor.VACUUM, 0);
  }
}
