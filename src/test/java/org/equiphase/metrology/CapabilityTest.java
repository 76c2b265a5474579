package org.equiphase.metrology;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.equiphase.metrology.Capability.Index;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/** Validation of capability indices and their bounds. */
class CapabilityTest {

  /** NIST/SEMATECH e-Handbook, 6.1.6: USL 20, LSL 8, mean 16, s 2; Cpm recomputed for T = 14. */
  @Test
  void exampleOfTheHandbook() {
    Capability capability = Capability.of(16, 2, 30, 8.0, 20.0, null, 0.95);
    assertThat(requireNonNull(capability.cp()).value()).isCloseTo(1.0, within(1e-12));
    assertThat(requireNonNull(capability.cpu()).value()).isCloseTo(0.6667, within(5e-5));
    assertThat(requireNonNull(capability.cpl()).value()).isCloseTo(1.3333, within(5e-5));
    assertThat(capability.cpk()).isEqualTo(capability.cpu());
    assertThat(requireNonNull(capability.cpm())).isCloseTo(0.7071, within(5e-5));
    // χ²(0.025; 29) = 16.047 and χ²(0.975; 29) = 45.722 (any chi-squared table).
    assertThat(requireNonNull(capability.cp()).lower())
        .isCloseTo(Math.sqrt(16.047 / 29), within(5e-5));
    assertThat(requireNonNull(capability.cp()).upper())
        .isCloseTo(Math.sqrt(45.722 / 29), within(5e-5));
  }

  @Test
  void oneLimitGivesOneSide() {
    Capability upperOnly = Capability.of(1, 0.1, 25, null, 1.5, null, 0.9);
    assertThat(upperOnly.cp()).isNull();
    assertThat(upperOnly.cpl()).isNull();
    assertThat(upperOnly.cpm()).isNull();
    assertThat(upperOnly.cpk().value()).isCloseTo(5.0 / 3, within(1e-12));
    assertThat(Capability.of(1, 0.1, 25, 0.5, null, null, 0.9).cpk().value())
        .isCloseTo(5.0 / 3, within(1e-12));
  }

  /**
   * How often the 95 % bounds hold the true index, drawn with seed 11: 20 000 samples of 30 give
   * the share to 0.5 % (three standard deviations). Exact for cp; an approximation for cpk, given
   * 1.5 %.
   */
  @Test
  void boundsHoldAsOftenAsTheySay() {
    Random random = new Random(11);
    int samples = 20_000;
    int widthHeld = 0;
    int sideHeld = 0;
    double[] values = new double[30];
    for (int s = 0; s < samples; s++) {
      for (int i = 0; i < values.length; i++) {
        values[i] = 0.5 + random.nextGaussian();
      }
      Capability capability = Capability.ofValues(values, -4.0, 4.0, null, 0.95);
      widthHeld += holds(requireNonNull(capability.cp()), 8.0 / 6) ? 1 : 0;
      sideHeld += holds(capability.cpk(), 3.5 / 3) ? 1 : 0;
    }
    assertThat((double) widthHeld / samples).isCloseTo(0.95, within(0.005));
    assertThat((double) sideHeld / samples).isCloseTo(0.95, within(0.015));
  }

  @Test
  void refusesWhatHasNoIndex() {
    refused("standardDeviation", () -> Capability.of(0, 0, 5, 0.0, 1.0, null, 0.95));
    refused("standardDeviation", () -> Capability.of(0, 1e-300, 5, 0.0, 1.0, null, 0.95));
    refused("count", () -> Capability.of(0, 1, 1, 0.0, 1.0, null, 0.95));
    refused("lower", () -> Capability.of(0, 1, 5, 1.0, 1.0, null, 0.95));
    refused("lower", () -> Capability.of(0, 1, 5, null, null, null, 0.95));
    refused("confidence", () -> Capability.of(0, 1, 5, 0.0, 1.0, null, 1));
    refused("values", () -> Capability.ofValues(new double[] {1, 1}, 0.0, 2.0, null, 0.95));
  }

  private static boolean holds(Index index, double truth) {
    return index.lower() <= truth && truth <= index.upper();
  }

  private static void refused(String field, Runnable call) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(call::run)
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
