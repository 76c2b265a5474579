package org.equiphase.process;

import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.WrappedPhase;

/** How long a cut really was, by the phase before and after it. */
final class CutLength {

  // A reading without a budget is never exact.
  private static final double LEAST_CHANGE_DEG = 0.01;

  private CutLength() {}

  /**
   * What a cut took off, less what was signed off, mm: the length d that fits the changes of phase
   * Δ_k best, d = Σ w_k·s_k·Δ_k / Σ w_k·s_k², with s_k = 360·f_k/(v·c) in degrees per mm and w_k =
   * 1/u_k², u_k the standard uncertainty of the change. Whole turns are taken from what was signed
   * off where a reading does not know its own.
   *
   * @param velocityFactor v of the lot
   */
  static double errorMm(
      Reading before,
      ReadingDrift driftBefore,
      Reading after,
      ReadingDrift driftAfter,
      double velocityFactor,
      double signedOffMm) {
    boolean turnsKnown = before.phaseModuloDeg() == null && after.phaseModuloDeg() == null;
    double product = 0;
    double square = 0;
    for (int k = 0; k < before.spots().size(); k++) {
      Reading.Spot was = before.spots().get(k);
      Reading.Spot is = after.spots().get(k);
      double hertz = was.frequencyHz();
      double degPerMm =
          VelocityFactor.of(velocityFactor).degreesPerMetre(Frequency.ofHertz(hertz)) / 1e3;
      double change =
          (is.phaseDeg() - driftAfter.driftDeg(hertz))
              - (was.phaseDeg() - driftBefore.driftDeg(hertz));
      double expected = degPerMm * signedOffMm;
      double changeDeg = turnsKnown ? change : expected + WrappedPhase.wrapDeg(change - expected);
      double uncertainty =
          Math.max(
              LEAST_CHANGE_DEG, Math.hypot(u(was, driftBefore, hertz), u(is, driftAfter, hertz)));
      double weight = 1 / (uncertainty * uncertainty);
      product += weight * degPerMm * changeDeg;
      square += weight * degPerMm * degPerMm;
    }
    return product / square - signedOffMm;
  }

  private static double u(Reading.Spot spot, ReadingDrift drift, double hertz) {
    return spot.uncertainty().budget(drift.residualDeg(hertz)).independentStandardUncertainty();
  }
}
