package org.equiphase.workbook;

import java.util.List;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A member as the instructions show it. What is not known yet is null.
 *
 * @param set its set's name; empty in the pool
 * @param spots one per frequency of the order
 * @param work the cut or setting that is asked for; null for none
 */
record InstructionRow(
    String serial,
    String set,
    String position,
    Sentence action,
    @Nullable Long readingId,
    @Nullable Long instructionId,
    List<Spot> spots,
    @Nullable Work work,
    @Nullable Double probabilityIn,
    String key) {

  InstructionRow {
    spots = List.copyOf(spots);
  }

  /**
   * One frequency.
   *
   * @param centerDeg what the set's target adds to the nominal phase
   * @param errorDeg insertion phase less target, in the turn that the work is planned with
   * @param acceptanceDeg half-width of the band: tolerance less guard band
   */
  record Spot(
      double frequencyHz,
      @Nullable Double centerDeg,
      @Nullable Double targetDeg,
      @Nullable Double measuredDeg,
      @Nullable Double errorDeg,
      @Nullable Double acceptanceDeg) {}

  /**
   * A cut or a setting.
   *
   * @param electricalMmPerMm electrical length taken away per millimetre cut, or per millimetre of
   *     setting, then negative
   * @param aimDeg where the plan means the error at the first frequency to end
   * @param stepMm step of cuts; 0 for any length
   * @param fromMm setting now; 0 for a cut
   * @param toMm length to cut, or setting to make
   */
  record Work(
      boolean cut,
      double electricalMmPerMm,
      double aimDeg,
      double stepMm,
      double fromMm,
      double toMm) {

    /** Phase error that one millimetre adds. */
    double degPerMm(double frequencyHz) {
      return 360 * frequencyHz * electricalMmPerMm / 1e3 / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
    }

    double byMm() {
      return toMm - fromMm;
    }
  }
}
