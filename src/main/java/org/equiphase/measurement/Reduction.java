package org.equiphase.measurement;

import java.util.List;
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
}
