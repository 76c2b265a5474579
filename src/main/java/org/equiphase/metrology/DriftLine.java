package org.equiphase.metrology;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.equiphase.rf.Require;
import org.equiphase.rf.WrappedPhase;

/**
 * Drift of a bench, seen by re-measuring one reference cable and linear in time from check to check
 * (common practice, no source). Phases are compared modulo 360°, so from check to check the drift
 * must stay under half a turn.
 *
 * @param baselinePhaseDeg insertion phase of the reference cable when it was taken on, degrees,
 *     within ±1e9, at the checks' frequency
 * @param driftLimitDeg most that two neighbouring checks may differ by, degrees, 0 or more
 * @param checks ordered in time; of checks with the same time the later in the list counts
 */
public record DriftLine(double baselinePhaseDeg, double driftLimitDeg, List<DriftCheck> checks) {

  /** A change equal to the limit is within it, whatever the last digits of the subtraction. */
  private static final double LIMIT_SLACK_DEG = 1e-9;

  /**
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks the rules above
   */
  public DriftLine {
    Require.within("baselinePhaseDeg", baselinePhaseDeg, -1e9, 1e9);
    Require.notNegative("driftLimitDeg", driftLimitDeg);
    checks = List.copyOf(checks);
    for (int i = 1; i < checks.size(); i++) {
      if (checks.get(i).at().isBefore(checks.get(i - 1).at())) {
        throw Require.refuse(
            "checks[" + i + "].at",
            checks.get(i).at() + " lies before the check ahead of it; give checks in time order");
      }
    }
  }

  /**
   * The drift at a moment.
   *
   * <p>Between two checks: linear. The residual is taken as rectangular with half their change as
   * half-width, |change|/2/√3, for the drift may have run ahead of the line or behind it but hardly
   * outside what the checks show.
   *
   * <p>From the last check on: its drift is held, and the result is open. The residual is
   * rectangular with the drift limit as half-width, limit/√3, for the next check may show that much
   * before readings are put on hold.
   *
   * @return the drift at the checks' frequency; empty before the first check, where nothing is
   *     known
   */
  public Optional<DriftAt> at(Instant moment) {
    int taken = takenUpTo(moment);
    if (taken == 0) {
      return Optional.empty();
    }
    DriftCheck before = checks.get(taken - 1);
    return Optional.of(
        taken == checks.size() ? open(before) : between(before, checks.get(taken), moment));
  }

  /** The drift that a check shows, degrees, in (−180, +180]. */
  public double driftDeg(DriftCheck check) {
    return WrappedPhase.wrapDeg(check.phaseDeg() - baselinePhaseDeg);
  }

  /** How many checks are not after a moment. */
  private int takenUpTo(Instant moment) {
    int low = 0;
    int high = checks.size();
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (checks.get(middle).at().isAfter(moment)) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    return low;
  }

  private DriftAt open(DriftCheck last) {
    return new DriftAt(
        driftDeg(last), last, null, false, 0, false, halfWidthToStandard(driftLimitDeg));
  }

  private DriftAt between(DriftCheck before, DriftCheck after, Instant moment) {
    double change = WrappedPhase.wrapDeg(after.phaseDeg() - before.phaseDeg());
    double fraction = seconds(before.at(), moment) / seconds(before.at(), after.at());
    return new DriftAt(
        driftDeg(before) + change * fraction,
        before,
        after,
        true,
        Math.abs(change),
        Math.abs(change) > driftLimitDeg + LIMIT_SLACK_DEG,
        halfWidthToStandard(Math.abs(change) / 2));
  }

  private static double halfWidthToStandard(double halfWidthDeg) {
    return halfWidthDeg / Distribution.RECTANGULAR.divisor();
  }

  private static double seconds(Instant from, Instant to) {
    Duration between = Duration.between(from, to);
    return between.getSeconds() + between.getNano() * 1e-9;
  }
}
