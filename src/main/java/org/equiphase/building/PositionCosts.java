package org.equiphase.building;

import java.util.Arrays;
import java.util.List;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.matching.Turns;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;

/**
 * How far members are from where each position asks them to be: the greatest share of its tolerance
 * that the error takes up at any frequency, counted from the set's centre, by position and member.
 *
 * <p>Against a nominal target it counts what is left after the cut, where cuts are made.
 */
final class PositionCosts {

  private final Specification specification;
  private final Pool pool;
  private final TargetCut targetCut;
  private final boolean cuts;

  /**
   * @param cuts whether members may be cut
   */
  PositionCosts(Specification specification, Pool pool, TargetCut targetCut, boolean cuts) {
    this.specification = specification;
    this.pool = pool;
    this.targetCut = targetCut;
    this.cuts = cuts;
  }

  /**
   * The centre is the mean of the errors less the mean of the offsets. Whoever stands where, the
   * differences have that mean, so that it does not depend on the answer. Against a nominal target
   * it is 0.
   */
  double[][] of(List<Standing> members, List<SetPosition> positions) {
    double[][] errorDeg = pool.errorsDeg(members);
    pool.unwrap(errorDeg);
    double[] centerDeg = new double[specification.frequencies().size()];
    for (int k = 0; k < centerDeg.length && !pool.nominal(); k++) {
      int frequency = k;
      double frequencyHz = specification.frequencies().get(k).frequencyHz();
      centerDeg[k] =
          Arrays.stream(errorDeg).mapToDouble(e -> e[frequency]).average().orElse(0)
              - positions.stream().mapToDouble(p -> p.offsetDeg(frequencyHz)).average().orElse(0);
    }
    return costs(members, errorDeg, positions, centerDeg);
  }

  /** The same with the centre where one member stands exactly right at the first position. */
  double[][] around(Standing start, List<SetPosition> positions, List<Standing> members) {
    double[] centerDeg =
        pool.nominal()
            ? new double[specification.frequencies().size()]
            : pool.at(start, positions.get(0));
    return costs(members, pool.errorsDeg(members), positions, centerDeg);
  }

  private double[][] costs(
      List<Standing> members,
      double[][] errorDeg,
      List<SetPosition> positions,
      double[] centerDeg) {
    double[][] cost = new double[positions.size()][errorDeg.length];
    for (int p = 0; p < positions.size(); p++) {
      for (int i = 0; i < errorDeg.length; i++) {
        double[] apartDeg = apart(errorDeg[i], positions.get(p), centerDeg);
        double allowanceMm = members.get(i).allowanceMm();
        double cutMm = pool.nominal() && cuts ? targetCut.mm(apartDeg, allowanceMm) : 0;
        double[] leftDeg = targetCut.afterDeg(apartDeg, cutMm);
        for (int k = 0; k < leftDeg.length; k++) {
          double toleranceDeg = specification.frequencies().get(k).toleranceDeg();
          cost[p][i] = Math.max(cost[p][i], Math.abs(leftDeg[k]) / toleranceDeg);
        }
      }
    }
    return cost;
  }

  private double[] apart(double[] errorDeg, SetPosition position, double[] centerDeg) {
    double[] apartDeg = new double[errorDeg.length];
    for (int k = 0; k < apartDeg.length; k++) {
      double frequencyHz = specification.frequencies().get(k).frequencyHz();
      double deg = errorDeg[k] - centerDeg[k] - position.offsetDeg(frequencyHz);
      apartDeg[k] = specification.turns() == Turns.MODULO_360 ? WrappedPhase.wrapDeg(deg) : deg;
    }
    return apartDeg;
  }
}
