package org.equiphase.building;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;

/** The cut that brings an assembly nearest to a given target, with the limits there. */
final class TargetCut {

  private final double[] limitDeg;
  private final double[] degPerMm;

  TargetCut(VelocityFactor velocityFactor, double[] frequencyHz, double[] limitDeg) {
    this.limitDeg = limitDeg;
    degPerMm = new double[frequencyHz.length];
    for (int k = 0; k < degPerMm.length; k++) {
      degPerMm[k] = velocityFactor.degreesPerMetre(Frequency.ofHertz(frequencyHz[k])) / 1e3;
    }
  }

  /** The errors that a cut leaves. */
  double[] afterDeg(double[] errorDeg, double cutMm) {
    double[] afterDeg = errorDeg.clone();
    for (int k = 0; k < afterDeg.length; k++) {
      afterDeg[k] += degPerMm[k] * cutMm;
    }
    return afterDeg;
  }

  /**
   * The cut in mm; 0 where the errors are within the limits without one, or with none.
   *
   * <p>The least of the greatest share |e + s·d| / limit is where one frequency's share falls and
   * another's rises as d grows, or where the allowance ends.
   */
  double mm(double[] errorDeg, double allowanceMm) {
    double least = share(errorDeg, 0);
    double bestMm = 0;
    if (least > 1 + Pool.SLACK) {
      List<Double> tried = new ArrayList<>(List.of(allowanceMm));
      for (int j = 0; j < errorDeg.length; j++) {
        for (int k = 0; k <= j; k++) {
          tried.add(
              -(errorDeg[j] / limitDeg[j] + errorDeg[k] / limitDeg[k])
                  / (degPerMm[j] / limitDeg[j] + degPerMm[k] / limitDeg[k]));
        }
      }
      for (double cutMm : tried) {
        if (cutMm > 0 && cutMm <= allowanceMm && share(errorDeg, cutMm) < least) {
          least = share(errorDeg, cutMm);
          bestMm = cutMm;
        }
      }
    }
    return least <= 1 + Pool.SLACK ? bestMm : 0;
  }

  private double share(double[] errorDeg, double cutMm) {
    double share = 0;
    for (int k = 0; k < errorDeg.length; k++) {
      share = Math.max(share, Math.abs(errorDeg[k] + degPerMm[k] * cutMm) / limitDeg[k]);
    }
    return share;
  }
}
