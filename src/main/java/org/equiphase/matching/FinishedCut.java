package org.equiphase.matching;

import java.util.List;

/**
 * A cut that was made and measured before and after.
 *
 * @param serial serial number of the assembly
 * @param cutMm length that was instructed and signed off, above 0 and at most 100 000 mm
 * @param cutStandardUncertaintyMm by what the length removed differs from it (1σ), 0 to 1000 mm
 * @param changes how far the phase moved, at least one frequency
 */
public record FinishedCut(
    String serial, double cutMm, double cutStandardUncertaintyMm, List<Change> changes) {

  public FinishedCut {
    changes = SetProblem.copy(changes);
  }

  /**
   * How far the phase moved at one frequency.
   *
   * @param frequencyHz 1 Hz to 1 THz
   * @param phaseChangeDeg phase after less phase before, all turns counted, −1e9 to 1e9; positive
   *     for a cut
   * @param standardUncertaintyDeg standard uncertainty of the change: for two independent readings
   *     √2 times that of one; above 0 and at most 1e6
   */
  public record Change(double frequencyHz, double phaseChangeDeg, double standardUncertaintyDeg) {}
}
