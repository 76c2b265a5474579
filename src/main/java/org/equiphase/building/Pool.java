package org.equiphase.building;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.building.SetCheck.Extent;
import org.equiphase.matching.Basis;
import org.equiphase.matching.PoolProblem;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.matching.Turns;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/**
 * The pool as sets are built of it: errors of the assemblies, and what members of a set may differ
 * by.
 *
 * <p>With basis SET members may differ by twice the limit. With a NOMINAL target each may lie as
 * far as the limit from it. With a MASTER they may differ by the limit itself, so that any of them
 * could be the master.
 */
final class Pool {

  /** Limits are inclusive to within this, degrees or decibels, as the solver's are. */
  static final double SLACK = 1e-9;

  /** A set alone is settled far sooner. */
  private static final long CHECK_WORK = 200 * PoolSolver.WORK_PER_MS;

  private final Specification specification;
  private final Standings standings;
  private final Ask ask;
  private final double[] frequencyHz;
  private final double[] limitDeg;
  private final TargetCut targetCut;

  /**
   * @throws ConflictException where the guard band leaves nothing of a tolerance
   */
  Pool(Specification specification, Standings standings, Ask ask) {
    this.specification = specification;
    this.standings = standings;
    this.ask = ask;
    int count = specification.frequencies().size();
    frequencyHz = new double[count];
    limitDeg = new double[count];
    for (int k = 0; k < count; k++) {
      frequencyHz[k] = specification.frequencies().get(k).frequencyHz();
      double acceptedDeg = standings.limits().get(k).acceptanceDeg();
      if (acceptedDeg <= 0) {
        throw new ConflictException(
            Sentence.of("building.guardTooWide", Digits.of(frequencyHz[k] / 1e9, 4)));
      }
      double withinDeg = acceptedDeg * ask.tolerancePercent() / 100;
      limitDeg[k] = specification.basis() == Basis.SET ? 2 * withinDeg : withinDeg;
    }
    targetCut = new TargetCut(VelocityFactor.of(standings.velocityFactor()), frequencyHz, limitDeg);
  }

  PositionCosts costs() {
    return new PositionCosts(specification, this, targetCut, ask.cuts());
  }

  boolean nominal() {
    return specification.basis() == Basis.NOMINAL;
  }

  /** What a set may use at each frequency, degrees. */
  double[] limitDeg() {
    return limitDeg.clone();
  }

  /** Those that can be put into a set at all: against a nominal target they have to be near it. */
  List<Standing> fitting(List<Standing> members) {
    return members.stream()
        .filter(Standing::usable)
        .filter(
            m ->
                !nominal()
                    || ask.positions().stream()
                        .anyMatch(p -> check(List.of(m), List.of(p)).inside()))
        .toList();
  }

  /**
   * Sets of those members for positions that are alike, each using at most a share of its limit.
   */
  PoolSolution solve(List<Standing> members, double share, long workLimit) {
    double[][] errorDeg =
        members.stream().map(m -> at(m, ask.positions().get(0))).toArray(double[][]::new);
    unwrap(errorDeg);
    double[][] afterDeg =
        nominal() ? cut(members, errorDeg, cutsToTarget(members, errorDeg)) : errorDeg;
    List<Candidate> candidates = new ArrayList<>();
    for (int i = 0; i < afterDeg.length; i++) {
      candidates.add(candidate(members.get(i), afterDeg[i]));
    }
    return PoolSolver.solve(
        new PoolProblem(ask.setSize(), 0, limits(share), candidates), workLimit);
  }

  private List<PoolLimit> limits(double share) {
    List<PoolLimit> limits = new ArrayList<>();
    for (int k = 0; k < limitDeg.length; k++) {
      // Against a nominal target the window is as wide to either side.
      double widthDeg = nominal() ? 2 * limitDeg[k] : limitDeg[k];
      limits.add(
          new PoolLimit(
              frequencyHz[k],
              share * widthDeg / 2,
              specification.frequencies().get(k).insertionLossSpreadDb()));
    }
    return limits;
  }

  private Candidate candidate(Standing member, double[] errorDeg) {
    boolean cut = ask.cuts() && !nominal() && member.allowanceMm() > 0;
    return new Candidate(
        member.assembly().serial(),
        Arrays.stream(errorDeg).boxed().toList(),
        member.lossDb().isEmpty() ? null : member.lossDb(),
        cut
            ? new Cut(standings.velocityFactor(), member.allowanceMm(), standings.lossDbPerM())
            : null);
  }

  /** How members agree, each at its position; those beyond the last position stand as at none. */
  SetCheck check(List<Standing> members, List<SetPosition> positions) {
    int size = members.size();
    double[][] atDeg = new double[size][];
    for (int i = 0; i < size; i++) {
      atDeg[i] = at(members.get(i), i < positions.size() ? positions.get(i) : null);
    }
    unwrap(atDeg);
    double[][] afterDeg = atDeg;
    Map<String, Double> trimMm = Map.of();
    if (!within(atDeg) && ask.cuts()) {
      trimMm = nominal() ? cutsToTarget(members, atDeg) : cutsToAgree(members, atDeg);
      afterDeg = cut(members, atDeg, trimMm);
    }
    List<Extent> phases = new ArrayList<>();
    for (int k = 0; k < limitDeg.length; k++) {
      phases.add(phase(members, atDeg, afterDeg, k));
    }
    List<Extent> losses = losses(members, trimMm);
    boolean inside =
        phases.stream().allMatch(Extent::inside) && losses.stream().allMatch(Extent::inside);
    double share = 0;
    for (List<Extent> extents : List.of(phases, losses)) {
      for (Extent extent : extents) {
        share = Math.max(share, extent.share());
      }
    }
    return new SetCheck(
        phases,
        losses,
        share,
        inside,
        worst(members, afterDeg),
        trimMm,
        about(afterDeg),
        nominal());
  }

  private List<List<Double>> about(double[][] atDeg) {
    List<List<Double>> about = new ArrayList<>();
    for (double[] each : atDeg) {
      List<Double> row = new ArrayList<>();
      for (int k = 0; k < each.length; k++) {
        int frequency = k;
        double low = Arrays.stream(atDeg).mapToDouble(a -> a[frequency]).min().orElse(0);
        double high = Arrays.stream(atDeg).mapToDouble(a -> a[frequency]).max().orElse(0);
        row.add(nominal() ? each[k] : each[k] - (low + high) / 2);
      }
      about.add(row);
    }
    return about;
  }

  /**
   * By loss at the first frequency where its spread is limited; as they are where it is nowhere.
   */
  List<Standing> byLoss(List<Standing> members) {
    for (int k = 0; k < limitDeg.length; k++) {
      if (specification.frequencies().get(k).insertionLossSpreadDb() != null) {
        int frequency = k;
        return members.stream()
            .sorted(Comparator.comparing(m -> m.lossDb().get(frequency)))
            .toList();
      }
    }
    return members;
  }

  /** Whether two could be in one set whose positions are alike. */
  boolean agree(Standing one, Standing other) {
    return check(List.of(one, other), ask.positions()).inside();
  }

  int setSize() {
    return ask.setSize();
  }

  private boolean within(double[][] atDeg) {
    for (int k = 0; k < limitDeg.length; k++) {
      if (used(atDeg, k, -1) > limitDeg[k] + SLACK) {
        return false;
      }
    }
    return true;
  }

  /** Errors of members that stand at no position yet. */
  double[][] errorsDeg(List<Standing> members) {
    return members.stream().map(m -> at(m, null)).toArray(double[][]::new);
  }

  /** The error of a member at a position. */
  double[] at(Standing member, @Nullable SetPosition position) {
    double[] atDeg = new double[frequencyHz.length];
    for (int k = 0; k < atDeg.length; k++) {
      double offsetDeg = position == null ? 0 : position.offsetDeg(frequencyHz[k]);
      atDeg[k] = member.errorDeg().get(k) - offsetDeg;
    }
    return atDeg;
  }

  /** The cuts that bring members together; none where no cuts can. */
  private Map<String, Double> cutsToAgree(List<Standing> members, double[][] atDeg) {
    if (members.size() < 2) {
      return Map.of();
    }
    List<Candidate> candidates = new ArrayList<>();
    for (int i = 0; i < atDeg.length; i++) {
      candidates.add(candidate(members.get(i), atDeg[i]));
    }
    PoolSolution solution =
        PoolSolver.solve(new PoolProblem(members.size(), 0, limits(1), candidates), CHECK_WORK);
    return solution.sets().isEmpty() ? Map.of() : solution.sets().get(0).trimMm();
  }

  /**
   * For each that lies outside, the cut that brings it nearest to the target, if that is inside.
   */
  private Map<String, Double> cutsToTarget(List<Standing> members, double[][] atDeg) {
    Map<String, Double> trimMm = new HashMap<>();
    for (int i = 0; i < atDeg.length && ask.cuts(); i++) {
      double cutMm = targetCut.mm(atDeg[i], members.get(i).allowanceMm());
      if (cutMm > 0) {
        trimMm.put(members.get(i).assembly().serial(), cutMm);
      }
    }
    return trimMm;
  }

  private double[][] cut(List<Standing> members, double[][] atDeg, Map<String, Double> trimMm) {
    double[][] afterDeg = new double[atDeg.length][];
    for (int i = 0; i < atDeg.length; i++) {
      double cutMm = trimMm.getOrDefault(members.get(i).assembly().serial(), 0.0);
      afterDeg[i] = targetCut.afterDeg(atDeg[i], cutMm);
    }
    return afterDeg;
  }

  private Extent phase(List<Standing> members, double[][] atDeg, double[][] afterDeg, int k) {
    int low = 0;
    int high = 0;
    for (int i = 1; i < atDeg.length; i++) {
      low = atDeg[i][k] < atDeg[low][k] ? i : low;
      high = atDeg[i][k] > atDeg[high][k] ? i : high;
    }
    double usedAfter = used(afterDeg, k, -1);
    FrequencySpecification f = specification.frequencies().get(k);
    double wholeDeg = specification.basis() == Basis.SET ? 2 * f.toleranceDeg() : f.toleranceDeg();
    return new Extent(
        frequencyHz[k],
        used(atDeg, k, -1),
        usedAfter,
        limitDeg[k],
        usedAfter / wholeDeg,
        members.isEmpty() ? "" : members.get(low).assembly().serial(),
        members.isEmpty() ? "" : members.get(high).assembly().serial());
  }

  private List<Extent> losses(List<Standing> members, Map<String, Double> trimMm) {
    List<Extent> losses = new ArrayList<>();
    for (int k = 0; k < frequencyHz.length; k++) {
      Double limitDb = specification.frequencies().get(k).insertionLossSpreadDb();
      if (limitDb == null || members.isEmpty()) {
        continue;
      }
      Standing low = members.get(0);
      Standing high = low;
      double leastDb = Double.POSITIVE_INFINITY;
      double greatestDb = Double.NEGATIVE_INFINITY;
      for (Standing member : members) {
        double db = member.lossDb().get(k);
        low = db < low.lossDb().get(k) ? member : low;
        high = db > high.lossDb().get(k) ? member : high;
        double cutM = trimMm.getOrDefault(member.assembly().serial(), 0.0) / 1e3;
        double afterDb = db - cutM * standings.lossDbPerM().get(k);
        leastDb = Math.min(leastDb, afterDb);
        greatestDb = Math.max(greatestDb, afterDb);
      }
      losses.add(
          new Extent(
              frequencyHz[k],
              high.lossDb().get(k) - low.lossDb().get(k),
              greatestDb - leastDb,
              limitDb,
              (greatestDb - leastDb) / limitDb,
              low.assembly().serial(),
              high.assembly().serial()));
    }
    return losses;
  }

  private double used(double[][] atDeg, int k, int without) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < atDeg.length; i++) {
      if (i != without) {
        low = Math.min(low, atDeg[i][k]);
        high = Math.max(high, atDeg[i][k]);
      }
    }
    if (low > high) {
      return 0;
    }
    return nominal() ? Math.max(Math.abs(low), Math.abs(high)) : high - low;
  }

  private double share(double[][] atDeg, int without) {
    double share = 0;
    for (int k = 0; k < limitDeg.length; k++) {
      share = Math.max(share, used(atDeg, k, without) / limitDeg[k]);
    }
    return share;
  }

  private @Nullable String worst(List<Standing> members, double[][] atDeg) {
    int worst = -1;
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < members.size() && members.size() > 2; i++) {
      double share = share(atDeg, i);
      if (share < least) {
        least = share;
        worst = i;
      }
    }
    return worst < 0 ? null : members.get(worst).assembly().serial();
  }

  /** The member that the others are closest to, for the master of a set. */
  String middle(List<Standing> members) {
    Standing middle = members.get(0);
    double least = Double.POSITIVE_INFINITY;
    for (Standing each : members) {
      double farthest = 0;
      for (Standing other : members) {
        for (int k = 0; k < limitDeg.length; k++) {
          double apartDeg = Math.abs(each.errorDeg().get(k) - other.errorDeg().get(k));
          farthest = Math.max(farthest, apartDeg / limitDeg[k]);
        }
      }
      if (farthest < least) {
        least = farthest;
        middle = each;
      }
    }
    return middle.assembly().serial();
  }

  /** Brings errors that turns don't count for next to each other, or to the target. */
  void unwrap(double[][] deg) {
    if (specification.turns() == Turns.MODULO_360) {
      if (nominal()) {
        PhaseCircle.wrap(deg);
      } else {
        PhaseCircle.open(deg);
      }
    }
  }

  /**
   * What share of its limit each would use up alone at each position, against a nominal target.
   *
   * @return by position and member; above 1 where it can't stand there
   */
  double[][] shares(List<SetPosition> positions, List<Standing> members) {
    return positions.stream()
        .map(
            p -> members.stream().mapToDouble(m -> check(List.of(m), List.of(p)).share()).toArray())
        .toArray(double[][]::new);
  }

  /** The members by assembly. */
  static Map<Long, Standing> byId(List<Standing> members) {
    Map<Long, Standing> byId = new HashMap<>();
    members.forEach(m -> byId.put(m.assembly().id(), m));
    return byId;
  }

  static Standing of(Map<Long, Standing> members, long assemblyId) {
    return Objects.requireNonNull(members.get(assemblyId));
  }
}
