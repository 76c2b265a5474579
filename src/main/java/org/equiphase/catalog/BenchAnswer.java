package org.equiphase.catalog;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** A stored bench as the API answers it: with the ids of its parts, as it takes them. */
record BenchAnswer(
    long id,
    int version,
    String name,
    long instrumentId,
    @Nullable Long endStandardId,
    List<Long> adapterIds,
    double driftLimitDeg,
    int referenceIntervalMin,
    LocalDate calibrationDue,
    String note) {

  static BenchAnswer of(Bench bench) {
    EndStandard endStandard = bench.endStandard();
    return new BenchAnswer(
        bench.id(),
        bench.version(),
        bench.name(),
        bench.instrument().id(),
        endStandard == null ? null : endStandard.id(),
        bench.adapters().stream().map(Adapter::id).toList(),
        bench.driftLimitDeg(),
        bench.referenceIntervalMin(),
        bench.calibrationDue(),
        bench.note());
  }
}
