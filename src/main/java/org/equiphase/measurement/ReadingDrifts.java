package org.equiphase.measurement;

import java.util.Map;
import java.util.Objects;

/** What the reference checks of their benches say of some readings. */
public final class ReadingDrifts {

  private final Map<Long, BenchDrift> byBench;

  ReadingDrifts(Map<Long, BenchDrift> byBench) {
    this.byBench = Map.copyOf(byBench);
  }

  /** The drift at one of the readings. */
  public ReadingDrift at(Reading reading) {
    return Objects.requireNonNull(byBench.get(reading.benchId())).at(reading.takenAt());
  }
}
