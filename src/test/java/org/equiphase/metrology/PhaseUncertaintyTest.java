package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.Mismatch;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Bounds of phase errors; figures recomputed from the formulas with other tools. */
class PhaseUncertaintyTest {

  /** Form of EURAMET cg-12, version 1, as recalled. */
  @ParameterizedTest
  @CsvSource({"0, 0", "0.05, 0.3308", "0.1, 0.6635"})
  void fromMagnitude(double uncertaintyDb, double phaseDeg) {
    assertThat(PhaseUncertainty.ofMagnitudeDeg(uncertaintyDb)).isCloseTo(phaseDeg, within(5e-5));
  }

  @ParameterizedTest
  @CsvSource({
    "0, 90",
    "10, 18.4349",
    "20, 5.7392",
    "30, 1.8122",
    "40, 0.5730",
    "50, 0.1812",
    "60, 0.0573"
  })
  void fromAVectorBelowTheSignal(double belowDb, double phaseDeg) {
    assertThat(PhaseUncertainty.ofVectorDeg(belowDb)).isCloseTo(phaseDeg, within(5e-5));
  }

  @Test
  void fromTwoMismatches() {
    assertThat(PhaseUncertainty.ofMismatchDeg(0.1, 0.1)).isCloseTo(0.5730, within(5e-5));
    double gamma = Mismatch.gammaOfVswr(1.2);
    assertThat(PhaseUncertainty.ofMismatchDeg(gamma, gamma)).isCloseTo(0.4735, within(5e-5));
    Contribution line =
        Contribution.of(
            "mismatch",
            PhaseUncertainty.ofMismatchDeg(0.1, 0.1),
            Distribution.U_SHAPED,
            Sharing.INDEPENDENT);
    assertThat(line.standardUncertainty()).isCloseTo(0.4051, within(1e-4));
  }

  @Test
  void refusesWhatHasNoBound() {
    assertThat(PhaseUncertainty.ofMagnitudeDeg(20 * Math.log10(2))).isCloseTo(90, within(1e-5));
    refused("magnitudeUncertaintyDb", () -> PhaseUncertainty.ofMagnitudeDeg(6.03));
    refused("magnitudeUncertaintyDb", () -> PhaseUncertainty.ofMagnitudeDeg(-0.1));
    refused("belowSignalDb", () -> PhaseUncertainty.ofVectorDeg(-1));
    refused("gamma2", () -> PhaseUncertainty.ofMismatchDeg(0.1, 1.1));
  }

  private static void refused(String field, Runnable call) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(call::run)
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
