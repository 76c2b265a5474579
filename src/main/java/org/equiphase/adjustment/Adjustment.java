package org.equiphase.adjustment;

import org.equiphase.rf.PhysicalConstants;
import org.jspecify.annotations.Nullable;

/**
 * What happens to a member, rounded to what a person can cut or set.
 *
 * @param action null where the member stays as it is
 * @param shortenedElectricalMm electrical length taken away; negative for added
 */
record Adjustment(
    Instruction.@Nullable Action action,
    double trimMm,
    @Nullable Double settingMm,
    @Nullable Double slideMm,
    double shortenedElectricalMm,
    String reason) {

  static Adjustment none(String reason) {
    return new Adjustment(null, 0, null, null, 0, reason);
  }

  static Adjustment hold(String reason) {
    return new Adjustment(Instruction.Action.HOLD, 0, null, null, 0, reason);
  }

  /** The same with an electrical length taken away. */
  Adjustment shortened(double electricalMm) {
    return new Adjustment(action, trimMm, settingMm, slideMm, electricalMm, reason);
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
