package org.equiphase.adjustment;

import java.util.List;
import org.equiphase.matching.Basis;
import org.equiphase.metrology.Conformity;
import org.equiphase.metrology.UncertaintyBudget;

/**
 * Standard uncertainty of a member's phase errors, by what they are counted against.
 *
 * <p>Against a nominal phase all of a reading's uncertainty counts. Against the centre of the set
 * only what members do not share: a shared error moves all of them, and the centre with them.
 * Against a master it is a difference of two readings: √2 times what they do not share. Readings
 * from different benches share nothing.
 *
 * @param independentDeg at each frequency, from frequency to frequency taken as independent
 * @param commonDeg the same error of length at all frequencies
 */
record ErrorUncertainty(List<Double> independentDeg, List<Double> commonDeg) {

  ErrorUncertainty {
    independentDeg = List.copyOf(independentDeg);
    commonDeg = List.copyOf(commonDeg);
  }

  static ErrorUncertainty of(
      Basis basis, boolean oneBench, boolean master, List<UncertaintyBudget> budgets) {
    boolean cancels = basis != Basis.NOMINAL && oneBench;
    double growth = basis == Basis.MASTER ? Math.sqrt(2) : 1;
    double scale = basis == Basis.MASTER && master ? 0 : growth;
    return new ErrorUncertainty(
        budgets.stream().map(b -> scale * b.independentStandardUncertainty()).toList(),
        budgets.stream().map(b -> cancels ? 0 : scale * b.commonStandardUncertainty()).toList());
  }

  double standardDeg(int frequency) {
    return Math.hypot(independentDeg.get(frequency), commonDeg.get(frequency));
  }

  /**
   * Probability that errors lie within their tolerances at every frequency.
   *
   * @param lengthElectricalMm standard uncertainty of the electrical length on top, mm
   */
  double probabilityIn(
      double[] errorDeg, double[] toleranceDeg, double[] frequencyHz, double lengthElectricalMm) {
    double[] sensitivity = new double[errorDeg.length];
    double[] lower = new double[errorDeg.length];
    double[] independent = new double[errorDeg.length];
    for (int k = 0; k < errorDeg.length; k++) {
      double fromLengthDeg = Adjustment.shiftDeg(lengthElectricalMm, frequencyHz[k]);
      sensitivity[k] = Math.hypot(commonDeg.get(k), fromLengthDeg);
      independent[k] = independentDeg.get(k);
      lower[k] = -toleranceDeg[k];
    }
    return Conformity.jointProbability(errorDeg, 1, sensitivity, independent, lower, toleranceDeg);
  }
}
