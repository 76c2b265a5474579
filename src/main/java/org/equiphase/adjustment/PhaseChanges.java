package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.matching.FinishedCut.Change;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.WrappedPhase;

/** How a cut changed the phase of an assembly, by the readings before and after it. */
public final class PhaseChanges {

  // A reading without a budget is never exact.
  private static final double LEAST_CHANGE_DEG = 0.01;

  private PhaseChanges() {}

  /**
   * The change at each frequency, the benches' drift taken off. Whole turns are taken from the
   * length that was cut where a reading does not know its own.
   *
   * @param velocityFactor by which that length is a phase
   */
  public static List<Change> between(
      Reading before,
      Reading after,
      ReadingDrifts drifts,
      VelocityFactor velocityFactor,
      double cutMm) {
    ReadingDrift driftBefore = drifts.at(before);
    ReadingDrift driftAfter = drifts.at(after);
    boolean turnsKnown = before.phaseModuloDeg() == null && after.phaseModuloDeg() == null;
    List<Change> changes = new ArrayList<>();
    for (int k = 0; k < before.spots().size(); k++) {
      Reading.Spot was = before.spots().get(k);
      Reading.Spot is = after.spots().get(k);
      double hertz = was.frequencyHz();
      double changeDeg =
          (is.phaseDeg() - driftAfter.driftDeg(hertz))
              - (was.phaseDeg() - driftBefore.driftDeg(hertz));
      double expectedDeg = velocityFactor.degreesPerMetre(Frequency.ofHertz(hertz)) * cutMm / 1e3;
      changes.add(
          new Change(
              hertz,
              turnsKnown ? changeDeg : expectedDeg + WrappedPhase.wrapDeg(changeDeg - expectedDeg),
              Math.max(
                  Math.hypot(uncertaintyDeg(was, driftBefore), uncertaintyDeg(is, driftAfter)),
                  LEAST_CHANGE_DEG)));
    }
    return changes;
  }

  private static double uncertaintyDeg(Reading.Spot spot, ReadingDrift drift) {
    return spot.uncertainty()
        .budget(drift.residualDeg(spot.frequencyHz()))
        .independentStandardUncertainty();
  }
}
