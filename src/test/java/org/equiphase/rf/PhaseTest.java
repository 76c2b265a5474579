package org.equiphase.rf;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PhaseTest {

  @ParameterizedTest
  @CsvSource({
    "0, 0",
    "180, 180",
    "-180, 180",
    "180.5, -179.5",
    "540, 180",
    "-540, 180",
    "359, -1",
    "-181, 179"
  })
  void wrapsIntoTheHalfOpenTurn(double degrees, double wrapped) {
    assertThat(WrappedPhase.wrapDeg(degrees)).isEqualTo(wrapped);
  }

  @Property(tries = 500, seed = "1")
  void wrappingIsUndoneByAnExpectation(
      @ForAll @DoubleRange(min = -1e6, max = 1e6) double total,
      @ForAll @DoubleRange(min = -179, max = 179) double off) {
    UnwrappedPhase found =
        WrappedPhase.ofDegrees(total).nearestTo(UnwrappedPhase.ofDegrees(total + off));

    assertThat(found.degrees()).isCloseTo(total, within(1e-8));
  }

  @Property(tries = 500, seed = "1")
  void wholeTurnsChangeNoWrappedPhase(
      @ForAll @IntRange(min = -179, max = 180) int degrees,
      @ForAll @IntRange(min = -100_000, max = 100_000) int turns) {
    assertThat(WrappedPhase.wrapDeg(degrees + 360.0 * turns)).isEqualTo(degrees);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-180, 181, Double.NaN})
  void aWrappedPhaseOutsideTheTurnIsRefused(double degrees) {
    assertThatThrownBy(() -> new WrappedPhase(degrees))
        .isInstanceOf(InvalidQuantityException.class)
        .hasMessageContaining("phaseDeg");
  }

  @Test
  void phaseAndDelayAreInverse() {
    Frequency frequency = Frequency.ofMegahertz(950);
    UnwrappedPhase phase = Delay.ofNanoseconds(20).insertionPhase(frequency);

    assertThat(phase.degrees()).isCloseTo(-6840, within(1e-9));
    assertThat(phase.delay(frequency).inNanoseconds()).isCloseTo(20, within(1e-12));
  }

  /** 1 in = 25.4 mm exactly (1959); wavelength at 950 MHz computed from the exact c. */
  @Test
  void lengthsConvertExactly() {
    assertThat(Length.ofInches(1).inMillimetres()).isEqualTo(25.4);
    assertThat(Length.ofMillimetres(25.4).inInches()).isEqualTo(1);
    assertThat(Frequency.ofMegahertz(950).wavelength().inMillimetres())
        .isCloseTo(315.571008, within(5e-7));
    assertThat(Frequency.ofMegahertz(950).wavelength().inInches())
        .isCloseTo(12.424055, within(5e-7));
  }

  /** Arithmetic of 1/√εr; MIL-DTL-17 sheets give 0.695 for PTFE and 0.659 for PE. */
  @ParameterizedTest
  @CsvSource({"2.03, 0.70186", "2.07, 0.69505", "2.10, 0.69007", "2.25, 0.66667", "2.30, 0.65938"})
  void velocityFactorsOfDielectrics(double permittivity, double velocityFactor) {
    assertThat(VelocityFactor.ofRelativePermittivity(permittivity).value())
        .isCloseTo(velocityFactor, within(5e-6));
  }

  /** Delay of a metre and slope at 950 MHz, computed from the exact c. */
  @ParameterizedTest
  @CsvSource({"1, 3.335641, 1140.789", "0.7, 4.765201, 1629.699", "0.659, 5.061671, 1731.091"})
  void delayAndSlopeOfAMetre(double velocityFactor, double nanoseconds, double degrees) {
    VelocityFactor v = VelocityFactor.of(velocityFactor);
    Delay delay = Length.ofMetres(1).delayAt(v);

    assertThat(delay.inNanoseconds()).isCloseTo(nanoseconds, within(5e-7));
    assertThat(v.degreesPerMetre(Frequency.ofMegahertz(950))).isCloseTo(degrees, within(5e-4));
    assertThat(delay.lengthAt(v).metres()).isCloseTo(1, within(1e-15));
  }
}
