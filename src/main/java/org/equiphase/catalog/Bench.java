package org.equiphase.catalog;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A place of measurement: one instrument, the adapters between its calibrated plane and the
 * assembly, and the end standard used in reflection.
 */
public record Bench(
    long id,
    int version,
    String name,
    Instrument instrument,
    @Nullable EndStandard endStandard,
    List<Adapter> adapters,
    double driftLimitDeg,
    int referenceIntervalMin,
    LocalDate calibrationDue,
    String note)
    implements CatalogEntry {

  public Bench {
    adapters = List.copyOf(adapters);
  }
}
