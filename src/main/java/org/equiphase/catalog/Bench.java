package org.equiphase.catalog;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.equiphase.rf.Method;
import org.equiphase.rf.ReferencePlane;
import org.jspecify.annotations.Nullable;

/**
 * A place of measurement: one instrument, the adapters between its calibrated plane and the
 * assembly, and the end standard used in reflection.
 *
 * @param endStandard null where the bench measures in transmission only
 * @param referenceCable null where it is not known what the reference cable is made of
 * @param driftLimitDeg most that two reference-cable checks may differ by
 * @param referenceIntervalMin longest time between reference-cable checks
 * @param transmissionBudget what adds to the uncertainty of a phase of S21
 * @param reflectionBudget the same for a phase of S11
 */
public record Bench(
    long id,
    int version,
    String name,
    Instrument instrument,
    @Nullable EndStandard endStandard,
    List<Adapter> adapters,
    @Nullable ReferenceCable referenceCable,
    double driftLimitDeg,
    int referenceIntervalMin,
    Budget transmissionBudget,
    Budget reflectionBudget,
    LocalDate calibrationDue,
    String note)
    implements CatalogEntry {

  public Bench {
    adapters = List.copyOf(adapters);
  }

  public Budget budget(Method method) {
    return method.isReflection() ? reflectionBudget : transmissionBudget;
  }

  /** When the reference cable is to be measured again after it was last. */
  public Instant nextReferenceCheck(Instant last) {
    return last.plus(Duration.ofMinutes(referenceIntervalMin));
  }

  /** What all adapters together add to a reading. */
  public ReferencePlane referencePlane() {
    return ReferencePlane.ofPicoseconds(
        adapters.stream().mapToDouble(Adapter::delayPs).sum(),
        adapters.stream().mapToDouble(Adapter::lossDbAt1Ghz).sum());
  }
}
