package org.equiphase.review;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.rf.LineStretcher;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.rf.WrappedPhase;

/** What line stretchers, newly fitted, would do to a member's errors. */
final class StretcherFits {

  private StretcherFits() {}

  /**
   * The best mark of a stretcher.
   *
   * @param leftDeg error left at each frequency
   * @param fits whether all of them are accepted
   */
  record Fit(double settingMm, double addedElectricalMm, List<Double> leftDeg, boolean fits) {
    Fit {
      leftDeg = List.copyOf(leftDeg);
    }
  }

  /** Tries each mark, the whole of the stretcher's air line being new to the assembly. */
  static Fit best(LineStretcher stretcher, MemberPlan member, boolean modulo360) {
    Fit best = null;
    double least = Double.POSITIVE_INFINITY;
    double stepMm = stretcher.resolutionMm();
    long steps =
        Math.round(
            Math.floor(
                (stretcher.highestSettingMm() - stretcher.lowestSettingMm()) / stepMm + 1e-9));
    for (long i = 0; i <= steps; i++) {
      double settingMm = stretcher.lowestSettingMm() + i * stepMm;
      double addedMm = stretcher.electricalLengthMm(settingMm);
      double share = share(member, addedMm, modulo360);
      if (best == null || share < least) {
        least = share;
        best = new Fit(settingMm, addedMm, left(member, addedMm, modulo360), share <= 1);
      }
    }
    return Objects.requireNonNull(best);
  }

  private static double share(MemberPlan member, double addedMm, boolean modulo360) {
    double share = 0;
    for (SpotPlan spot : member.spots()) {
      double limitDeg = Math.max(spot.acceptanceDeg(), 1e-9);
      share = Math.max(share, Math.abs(left(spot, addedMm, modulo360)) / limitDeg);
    }
    return share;
  }

  private static List<Double> left(MemberPlan member, double addedMm, boolean modulo360) {
    List<Double> left = new ArrayList<>();
    for (SpotPlan spot : member.spots()) {
      left.add(left(spot, addedMm, modulo360));
    }
    return left;
  }

  private static double left(SpotPlan spot, double addedMm, boolean modulo360) {
    double turnDeg =
        -360 * spot.frequencyHz() * addedMm / 1e3 / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
    double leftDeg = spot.errorDeg() + turnDeg;
    return modulo360 ? WrappedPhase.wrapDeg(leftDeg) : leftDeg;
  }
}
