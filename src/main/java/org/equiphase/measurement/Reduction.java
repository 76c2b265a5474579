package org.equiphase.measurement;

import java.time.Instant;
import java.util.List;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.EndStandard;
import org.equiphase.measurement.Reading.Spot;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/** What a measurement says of the assembly, before it is stored. */
record Reduction(
    Method method,
    List<Spot> spots,
    @Nullable Double phaseModuloDeg,
    @Nullable Double turnsConfidence,
    @Nullable Double delayNs,
    @Nullable Double fitResidualDeg,
    @Nullable Double worstResidualHz,
    @Nullable Double worstResidualDeg,
    double standardUncertaintyDeg,
    @Nullable StoredSweep sweep) {

  Reduction {
    spots = List.copyOf(spots);
  }

  /** The end standard that the measurement used. */
  @Nullable Long endStandardId(Bench bench) {
    EndStandard standard = bench.endStandard();
    return method == Method.TRANSMISSION || standard == null ? null : standard.id();
  }

  Reading toReading(
      long id,
      long assemblyId,
      Bench bench,
      Reading.Source source,
      double temperatureC,
      Instant takenAt,
      Instant recordedAt,
      String recordedBy) {
    return new Reading(
        id,
        assemblyId,
        bench.id(),
        method,
        source,
        temperatureC,
        takenAt,
        recordedAt,
        recordedBy,
        phaseModuloDeg,
        turnsConfidence,
        delayNs,
        fitResidualDeg,
        worstResidualHz,
        worstResidualDeg,
        standardUncertaintyDeg,
        spots,
        null);
  }
}
