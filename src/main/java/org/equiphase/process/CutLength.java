package org.equiphase.process;

import java.util.List;
import org.equiphase.matching.FinishedCut.Change;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;

/** How long a cut really was, by the phase before and after it. */
final class CutLength {

  private CutLength() {}

  /**
   * What a cut took off, less what was signed off, mm: the length d that fits the changes of phase
   * Δ_k best, d = Σ w_k·s_k·Δ_k / Σ w_k·s_k², with s_k = 360·f_k/(v·c) in degrees per mm and w_k =
   * 1/u_k², u_k the standard uncertainty of the change.
   *
   * @param velocity v of the lot
   */
  static double errorMm(List<Change> changes, VelocityFactor velocity, double signedOffMm) {
    double product = 0;
    double square = 0;
    for (Change change : changes) {
      double degPerMm = velocity.degreesPerMetre(Frequency.ofHertz(change.frequencyHz())) / 1e3;
      double weight = 1 / (change.standardUncertaintyDeg() * change.standardUncertaintyDeg());
      product += weight * degPerMm * change.phaseChangeDeg();
      square += weight * degPerMm * degPerMm;
    }
    return product / square - signedOffMm;
  }
}
