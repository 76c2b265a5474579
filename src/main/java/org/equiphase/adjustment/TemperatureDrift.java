package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlan.Tracking;
import org.equiphase.catalog.CableType;
import org.equiphase.rf.PhaseTemperatureCurve;
import org.equiphase.rf.TemperatureTracking;
import org.equiphase.workorder.Specification;

/** How far a set that agrees at its reference temperature comes apart over its working range. */
final class TemperatureDrift {

  private TemperatureDrift() {}

  static List<Tracking> of(Specification specification, CableType cable, List<Usable> usable) {
    Optional<PhaseTemperatureCurve> curve = cable.phaseTemperatureCurve();
    Double lowC = specification.temperatureLowC();
    Double highC = specification.temperatureHighC();
    if (curve.isEmpty() || lowC == null || highC == null || usable.isEmpty()) {
      return List.of();
    }
    // Nothing is known outside the curve, so the range shown ends with it.
    double fromC = Math.max(lowC, curve.get().lowestC());
    double toC = Math.min(highC, curve.get().highestC());
    if (fromC > toC) {
      return List.of();
    }
    List<Tracking> tracking = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      int frequency = k;
      TemperatureTracking.Spread spread =
          TemperatureTracking.greatest(
              usable.stream()
                  .map(
                      u ->
                          new TemperatureTracking.Cable(
                              curve.get(), u.sums().get(frequency).phaseDeg()))
                  .toList(),
              specification.referenceTemperatureC(),
              fromC,
              toC);
      tracking.add(
          new Tracking(
              specification.frequencies().get(k).frequencyHz(),
              fromC,
              toC,
              spread.spreadDeg(),
              spread.temperatureC()));
    }
    return tracking;
  }
}
