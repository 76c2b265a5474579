package org.equiphase.workorder;

import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The assemblies that must agree in phase.
 *
 * @param masterSerial the assembly that sets the target, with basis MASTER
 * @param matchedAt when every position came to be in tolerance, or null
 * @param lockedCenterDeg the target per frequency once an adjustment has been signed off, relative
 *     to the nominal phase; empty before
 * @param releasedAt when QA released it; null before. From then on nothing of it may change
 */
public record MatchedSet(
    long id,
    int version,
    long workOrderId,
    String name,
    @Nullable String masterSerial,
    @Nullable Instant matchedAt,
    List<Double> lockedCenterDeg,
    List<SetPosition> positions,
    @Nullable Instant releasedAt) {

  public MatchedSet {
    lockedCenterDeg = List.copyOf(lockedCenterDeg);
    positions = List.copyOf(positions);
  }

  /** The same as if its target were free. */
  public MatchedSet withoutCenter() {
    return new MatchedSet(
        id, version, workOrderId, name, masterSerial, matchedAt, List.of(), positions, releasedAt);
  }
}
