package org.equiphase.adjustment;

import org.equiphase.matching.CutPlan;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What happens to a member, rounded to what a person can cut or set.
 *
 * @param action null where the member stays as it is
 * @param shortenedElectricalMm electrical length taken away; negative for added
 * @param uncertainElectricalMm standard uncertainty of that length
 * @param cut the cut's chances and their terms; null where nothing is cut
 */
record Adjustment(
    Instruction.@Nullable Action action,
    double trimMm,
    @Nullable Double settingMm,
    @Nullable Double slideMm,
    double shortenedElectricalMm,
    double uncertainElectricalMm,
    Sentence reason,
    @Nullable CutPlan cut) {

  static Adjustment none(Sentence reason) {
    return new Adjustment(null, 0, null, null, 0, 0, reason, null);
  }

  static Adjustment hold(Sentence reason) {
    return new Adjustment(Instruction.Action.HOLD, 0, null, null, 0, 0, reason, null);
  }

  /** The same with an electrical length taken away. */
  Adjustment shortened(double electricalMm, double uncertainMm) {
    return new Adjustment(
        action, trimMm, settingMm, slideMm, electricalMm, uncertainMm, reason, cut);
  }

  /** How far the insertion phase moves, degrees. */
  double shiftDeg(double frequencyHz) {
    return shiftDeg(shortenedElectricalMm, frequencyHz);
  }

  /** How far the insertion phase moves when a line gets shorter, degrees. */
  static double shiftDeg(double shortenedElectricalMm, double frequencyHz) {
    return 360
        * frequencyHz
        * shortenedElectricalMm
        / 1e3
        / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
  }
}
