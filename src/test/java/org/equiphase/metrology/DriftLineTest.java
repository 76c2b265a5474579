package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/** Drift between reference-cable checks, linear in time: common practice, no source. */
class DriftLineTest {

  private static final Instant START = Instant.parse("2026-03-02T06:00:00Z");
  private static final Frequency CHECKED = Frequency.ofGigahertz(2);

  private final DriftLine line =
      new DriftLine(-90, 0.5, List.of(check(0, -90.2), check(3600, -90.6), check(7200, -89.9)));

  @Test
  void linearBetweenChecks() {
    DriftAt drift = line.at(START.plusSeconds(900)).orElseThrow();
    assertThat(drift.driftDeg()).isCloseTo(-0.3, within(1e-12));
    assertThat(drift.bracketed()).isTrue();
    assertThat(drift.before()).isEqualTo(check(0, -90.2));
    assertThat(drift.after()).isEqualTo(check(3600, -90.6));
    assertThat(drift.changeDeg()).isCloseTo(0.4, within(1e-12));
    assertThat(drift.beyondLimit()).isFalse();
    // Half of 0.4° as half-width of a rectangular distribution.
    assertThat(drift.residualStandardUncertaintyDeg()).isCloseTo(0.2 / Math.sqrt(3), within(1e-12));
  }

  @Test
  void beyondTheLimitIsSaid() {
    DriftAt drift = line.at(START.plusSeconds(3600)).orElseThrow();
    assertThat(drift.driftDeg()).isCloseTo(-0.6, within(1e-12));
    assertThat(drift.changeDeg()).isCloseTo(0.7, within(1e-12));
    assertThat(drift.beyondLimit()).isTrue();
  }

  @Test
  void aChangeAtTheLimitIsWithin() {
    DriftLine atLimit = new DriftLine(0, 0.3, List.of(check(0, 0.1), check(60, 0.4)));
    assertThat(0.4 - 0.1).isGreaterThan(0.3);
    assertThat(atLimit.at(START).orElseThrow().beyondLimit()).isFalse();
  }

  @Test
  void heldAfterTheLastCheck() {
    for (int after : new int[] {7200, 9000}) {
      DriftAt drift = line.at(START.plusSeconds(after)).orElseThrow();
      assertThat(drift.driftDeg()).isCloseTo(0.1, within(1e-12));
      assertThat(drift.bracketed()).isFalse();
      assertThat(drift.after()).isNull();
      assertThat(drift.beyondLimit()).isFalse();
      assertThat(drift.residualStandardUncertaintyDeg())
          .isCloseTo(0.5 / Math.sqrt(3), within(1e-12));
    }
  }

  @Test
  void unknownBeforeTheFirstCheck() {
    assertThat(line.at(START.minusSeconds(1))).isEmpty();
    assertThat(new DriftLine(0, 1, List.of()).at(START)).isEmpty();
  }

  @Test
  void wholeTurnsDontCount() {
    DriftLine wrapped = new DriftLine(179.8, 1, List.of(check(0, -179.9), check(100, 179.5)));
    DriftAt drift = wrapped.at(START.plusSeconds(50)).orElseThrow();
    assertThat(drift.driftDeg()).isCloseTo(0, within(1e-12));
    assertThat(drift.changeDeg()).isCloseTo(0.6, within(1e-12));
  }

  /** A change of delay: phase in proportion to frequency (φ = −360·f·τ). */
  @Test
  void growsWithFrequency() {
    DriftAt drift =
        line.at(START.plusSeconds(900))
            .orElseThrow()
            .atFrequency(CHECKED, Frequency.ofGigahertz(5));
    assertThat(drift.driftDeg()).isCloseTo(-0.75, within(1e-12));
    assertThat(drift.changeDeg()).isCloseTo(1.0, within(1e-12));
    assertThat(drift.residualStandardUncertaintyDeg()).isCloseTo(0.5 / Math.sqrt(3), within(1e-12));
    assertThat(drift.beyondLimit()).isFalse();
  }

  @Test
  void ofChecksAtOneTimeTheLaterCounts() {
    DriftLine twice = new DriftLine(0, 1, List.of(check(0, 5), check(0, 0.2), check(60, 0.4)));
    assertThat(twice.at(START).orElseThrow().driftDeg()).isCloseTo(0.2, within(1e-12));
  }

  @Test
  void refusesChecksOutOfOrder() {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> new DriftLine(0, 1, List.of(check(10, 0), check(0, 0))))
        .satisfies(e -> assertThat(e.field()).isEqualTo("checks[1].at"));
  }

  @Property(tries = 200, seed = "1")
  void isLinearAndUnmovedByTheBaseline(
      @ForAll @DoubleRange(min = -150, max = 150) double from,
      @ForAll @DoubleRange(min = -20, max = 20) double change,
      @ForAll @DoubleRange(min = -1000, max = 1000) double baseline) {
    DriftLine moved =
        new DriftLine(
            baseline, 1, List.of(check(0, baseline + from), check(1000, baseline + from + change)));
    int seconds = new Random(Double.hashCode(from)).nextInt(1000);
    DriftAt drift = moved.at(START.plusSeconds(seconds)).orElseThrow();
    assertThat(drift.driftDeg()).isCloseTo(from + change * seconds / 1000.0, within(1e-9));
    assertThat(drift.changeDeg()).isCloseTo(Math.abs(change), within(1e-9));
  }

  private static DriftCheck check(int seconds, double phaseDeg) {
    return new DriftCheck(START.plusSeconds(seconds), phaseDeg);
  }
}
