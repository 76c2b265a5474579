package org.equiphase.measurement;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Budget;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.catalog.Instrument;
import org.equiphase.catalog.ReferenceCable;
import org.equiphase.measurement.BenchDrift.Series;
import org.equiphase.measurement.ReadingDrift.State;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

/** Linear between checks, held past the limit: common practice, no source. */
class BenchDriftTest {

  private static final Instant NINE = Instant.parse("2026-06-08T09:00:00Z");
  private static final double HZ = 1e9;

  @Test
  void linearInTimeAndWithFrequency() {
    ReadingDrift drift = drift(null, minutes(200), check(0, 10), check(60, 10.4)).at(minutes(15));
    assertThat(drift.state()).isEqualTo(State.BRACKETED);
    assertThat(drift.driftDeg(HZ)).isCloseTo(0.1, within(1e-12));
    assertThat(drift.driftDeg(2 * HZ)).isCloseTo(0.2, within(1e-12));
    // Half of the change as half-width of a rectangle: 0.2/√3.
    assertThat(drift.residualDeg(HZ)).isCloseTo(0.115470, within(1e-6));
  }

  @Test
  void countedFromTheFirstCheckEver() {
    ReadingDrift drift =
        drift(null, minutes(200), check(0, 10), check(60, 11), check(120, 12)).at(minutes(90));
    assertThat(drift.driftDeg(HZ)).isCloseTo(1.5, within(1e-12));
    assertThat(drift.state()).isEqualTo(State.BRACKETED);
  }

  @Test
  void acrossTheWrap() {
    ReadingDrift drift =
        drift(null, minutes(200), check(0, 179.8), check(60, -179.8)).at(minutes(30));
    assertThat(drift.driftDeg(HZ)).isCloseTo(0.2, within(1e-9));
  }

  @Test
  void inReflectionHalfOfWhatIsShown() {
    ReadingDrift drift =
        drift(
                null,
                minutes(200),
                check(0, Method.REFLECTION_OPEN, 179.8, 23),
                check(60, Method.REFLECTION_OPEN, -179.8, 23))
            .at(minutes(30));
    assertThat(drift.driftDeg(HZ)).isCloseTo(0.1, within(1e-9));
  }

  @Test
  void openThenDueThenUnchecked() {
    assertThat(drift(null, minutes(90), check(0, 10)).at(minutes(80)).state())
        .isEqualTo(State.OPEN);
    assertThat(drift(null, minutes(121), check(0, 10)).at(minutes(80)).state())
        .isEqualTo(State.CHECK_DUE);
    assertThat(drift(null, minutes(300), check(0, 10)).at(minutes(121)).state())
        .isEqualTo(State.NOT_CHECKED);
    assertThat(drift(null, minutes(300), check(0, 10)).at(minutes(-1)).state())
        .isEqualTo(State.NOT_CHECKED);
    assertThat(drift(null, minutes(300)).at(minutes(0)).usable()).isFalse();
  }

  @Test
  void theLimitItselfIsAccepted() {
    assertThat(drift(null, minutes(90), check(0, 10), check(60, 11)).at(minutes(1)).state())
        .isEqualTo(State.BRACKETED);
    ReadingDrift beyond = drift(null, minutes(90), check(0, 10), check(60, 8.9)).at(minutes(1));
    assertThat(beyond.state()).isEqualTo(State.BEYOND_LIMIT);
    assertThat(beyond.text().toString()).contains("Bench D drifted 1.10°", "limit of 1.00°");
  }

  /** 1 m of v = 0.7 at 1 GHz is 1715.5°; −100 ppm over the 2 °C between the checks is +0.1716°. */
  @Test
  void theReferenceCablesOwnTemperatureIsNoDrift() {
    ReferenceCable cable =
        new ReferenceCable(
            new CableType(
                1,
                1,
                "",
                0.7,
                0,
                50,
                0,
                0,
                List.of(new TemperaturePoint(20, 0), new TemperaturePoint(30, -500)),
                ""),
            1000);
    ReadingDrift drift =
        drift(
                cable,
                minutes(90),
                check(0, Method.TRANSMISSION, 10, 22),
                check(60, Method.TRANSMISSION, 10.1716, 24))
            .at(minutes(59));
    assertThat(drift.driftDeg(HZ)).isCloseTo(0, within(1e-4));
  }

  private static Instant minutes(int after) {
    return NINE.plusSeconds(60L * after);
  }

  private static ReferenceCheck check(int minute, double phaseDeg) {
    return check(minute, Method.TRANSMISSION, phaseDeg, 23);
  }

  private static ReferenceCheck check(int minute, Method method, double phaseDeg, double celsius) {
    return new ReferenceCheck(1, 1, "REF", method, HZ, phaseDeg, celsius, minutes(minute), "t");
  }

  private static BenchDrift drift(
      @Nullable ReferenceCable cable, Instant now, ReferenceCheck... checks) {
    Bench bench =
        new Bench(
            1,
            1,
            "Bench D",
            new Instrument(1, 1, "", "", 0.1, LocalDate.EPOCH, ""),
            null,
            List.of(),
            cable,
            1,
            120,
            Budget.INSTRUMENT_ONLY,
            Budget.INSTRUMENT_ONLY,
            LocalDate.EPOCH,
            "");
    Map<Series, ReferenceCheck> baselines = new HashMap<>();
    for (ReferenceCheck check : checks) {
      baselines.putIfAbsent(Series.of(check), check);
    }
    return new BenchDrift(bench, now, List.of(checks), baselines);
  }
}
