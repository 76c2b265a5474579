package org.equiphase.catalog;

import java.util.Optional;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.PhaseTemperatureCurve;

/**
 * What a bench's reference cable is made of, so that its own change with temperature is not taken
 * for drift.
 */
public record ReferenceCable(CableType cableType, double lengthMm) {

  /**
   * What brings its phase from one temperature to another, degrees of insertion phase; 0 where its
   * type has no curve.
   */
  public double correctionDeg(double frequencyHz, double fromC, double toC) {
    Optional<PhaseTemperatureCurve> curve = cableType.phaseTemperatureCurve();
    double totalDeg =
        -cableType.nominalVelocityFactor().degreesPerMetre(Frequency.ofHertz(frequencyHz))
            * lengthMm
            / 1e3;
    return curve.map(c -> c.correctDeg(totalDeg, fromC, toC) - totalDeg).orElse(0.0);
  }
}
