package org.equiphase.measurement;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.ReferenceCable;
import org.equiphase.measurement.ReadingDrift.State;
import org.equiphase.metrology.DriftAt;
import org.equiphase.metrology.DriftCheck;
import org.equiphase.metrology.DriftLine;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/**
 * The drift of one bench as its reference checks show it. Each reference cable, frequency and
 * method is a series of its own, with the first check ever as its baseline; a reading goes by the
 * series of the last check before it.
 */
final class BenchDrift {

  /** What has to be the same for two checks to be compared. */
  record Series(String cableSerial, double frequencyHz, Method method) {

    static Series of(ReferenceCheck check) {
      return new Series(check.cableSerial(), check.frequencyHz(), check.method());
    }
  }

  private final Bench bench;
  private final Instant now;
  private final List<ReferenceCheck> checks;
  private final Map<Series, DriftLine> lines = new LinkedHashMap<>();

  /**
   * @param checks in the order of time
   * @param baselines each series' first check ever
   */
  BenchDrift(
      Bench bench,
      Instant now,
      List<ReferenceCheck> checks,
      Map<Series, ReferenceCheck> baselines) {
    this.bench = bench;
    this.now = now;
    this.checks = List.copyOf(checks);
    baselines.forEach(
        (series, baseline) ->
            lines.put(
                series,
                new DriftLine(
                    phaseDeg(bench, baseline, baseline),
                    bench.driftLimitDeg(),
                    checks.stream()
                        .filter(c -> Series.of(c).equals(series))
                        .map(c -> new DriftCheck(c.takenAt(), phaseDeg(bench, c, baseline)))
                        .toList())));
  }

  /** The phase as shown, brought to the temperature of the baseline. */
  static double phaseDeg(Bench bench, ReferenceCheck check, ReferenceCheck baseline) {
    ReferenceCable cable = bench.referenceCable();
    return cable == null
        ? check.phaseDeg()
        : check.phaseDeg()
            + check.method().passes()
                * cable.correctionDeg(
                    check.frequencyHz(), check.temperatureC(), baseline.temperatureC());
  }

  ReadingDrift at(Instant takenAt) {
    @Nullable Series series = null;
    for (ReferenceCheck check : checks) {
      if (!check.takenAt().isAfter(takenAt)) {
        series = Series.of(check);
      }
    }
    DriftLine line = series == null ? null : lines.get(series);
    Optional<DriftAt> at = line == null ? Optional.empty() : line.at(takenAt);
    return new ReadingDrift(
        at.map(drift -> state(drift, takenAt)).orElse(State.NOT_CHECKED),
        at.orElse(null),
        series == null ? 0 : series.frequencyHz(),
        series == null ? 1 : series.method().passes(),
        bench.driftLimitDeg(),
        bench.name());
  }

  private State state(DriftAt drift, Instant takenAt) {
    if (drift.bracketed()) {
      return drift.beyondLimit() ? State.BEYOND_LIMIT : State.BRACKETED;
    }
    Instant due = bench.nextReferenceCheck(drift.before().at());
    if (takenAt.isAfter(due)) {
      return State.NOT_CHECKED;
    }
    return now.isAfter(due) ? State.CHECK_DUE : State.OPEN;
  }
}
