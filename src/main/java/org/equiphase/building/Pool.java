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
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.WrappedPhase;
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

  private double[] at(Standing member, @Nullable SetPosition position) {
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
      double cutMm = cutToTargetMm(members.get(i), atDeg[i]);
      if (cutMm > 0) {
        trimMm.put(members.get(i).assembly().serial(), cutMm);
      }
    }
    return trimMm;
  }

  /**
   * The least of the greatest share |e + s·d| / limit is where one frequency's share falls and
   * another's rises as d grows, or where the allowance ends.
   */
  private double cutToTargetMm(Standing member, double[] atDeg) {
    double least = shareAfter(atDeg, 0);
    double bestMm = 0;
    if (least > 1 + SLACK) {
      List<Double> tried = new ArrayList<>(List.of(member.allowanceMm()));
      for (int j = 0; j < atDeg.length; j++) {
        for (int k = 0; k <= j; k++) {
          tried.add(
              -(atDeg[j] / limitDeg[j] + atDeg[k] / limitDeg[k])
                  / (degPerMm(j) / limitDeg[j] + degPerMm(k) / limitDeg[k]));
        }
      }
      for (double cutMm : tried) {
        if (cutMm > 0 && cutMm <= member.allowanceMm() && shareAfter(atDeg, cutMm) < least) {
          least = shareAfter(atDeg, cutMm);
          bestMm = cutMm;
        }
      }
    }
    return least <= 1 + SLACK ? bestMm : 0;
  }

  private double shareAfter(double[] atDeg, double cutMm) {
    double share = 0;
    for (int k = 0; k < atDeg.length; k++) {
      share = Math.max(share, Math.abs(atDeg[k] + degPerMm(k) * cutMm) / limitDeg[k]);
    }
    return share;
  }

  private double degPerMm(int k) {
    return VelocityFactor.of(standings.velocityFactor())
            .degreesPerMetre(Frequency.ofHertz(frequencyHz[k]))
        / 1e3;
  }

  private double[][] cut(List<Standing> members, double[][] atDeg, Map<String, Double> trimMm) {
    double[][] afterDeg = new double[atDeg.length][];
    for (int i = 0; i < atDeg.length; i++) {
      afterDeg[i] = atDeg[i].clone();
      double cutMm = trimMm.getOrDefault(members.get(i).assembly().serial(), 0.0);
      for (int k = 0; k < frequencyHz.length; k++) {
        afterDeg[i][k] += degPerMm(k) * cutMm;
      }
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

  /**
   * Where turns don't count, errors lie on a circle: it is opened at its widest gap, so that what
   * lies together on the circle lies together on the line.
   */
  private void unwrap(double[][] deg) {
    if (specification.turns() != Turns.MODULO_360) {
      return;
    }
    if (nominal() || deg.length < 2) {
      for (double[] each : deg) {
        Arrays.setAll(each, k -> WrappedPhase.wrapDeg(each[k]));
      }
      return;
    }
    for (int k = 0; k < frequencyHz.length; k++) {
      double[] sorted = new double[deg.length];
      for (int i = 0; i < deg.length; i++) {
        deg[i][k] -= 360 * Math.floor(deg[i][k] / 360);
        sorted[i] = deg[i][k];
      }
      Arrays.sort(sorted);
      double start = sorted[0];
      double widest = sorted[0] + 360 - sorted[sorted.length - 1];
      for (int i = 1; i < sorted.length; i++) {
        if (sorted[i] - sorted[i - 1] > widest) {
          widest = sorted[i] - sorted[i - 1];
          start = sorted[i];
        }
      }
      for (int i = 0; i < deg.length; i++) {
        deg[i][k] = deg[i][k] < start ? deg[i][k] + 360 : deg[i][k];
      }
    }
  }

  /**
   * How far members are from where each position asks them to be: the greatest share of its
   * tolerance that the error takes up at any frequency, counted from the set's centre.
   *
   * <p>Against a nominal target it counts what is left after the cut, where cuts are made.
   *
   * <p>The centre is the mean of the errors less the mean of the offsets. Whoever stands where, the
   * differences have that mean, so that it does not depend on the answer. Against a nominal target
   * it is 0.
   *
   * @return by position and member
   */
  double[][] positionCosts(List<Standing> members, List<SetPosition> positions) {
    double[][] errorDeg = members.stream().map(m -> at(m, null)).toArray(double[][]::new);
    unwrap(errorDeg);
    double[] centerDeg = new double[frequencyHz.length];
    for (int k = 0; k < centerDeg.length && !nominal(); k++) {
      int frequency = k;
      centerDeg[k] =
          Arrays.stream(errorDeg).mapToDouble(e -> e[frequency]).average().orElse(0)
              - positions.stream()
                  .mapToDouble(p -> p.offsetDeg(frequencyHz[frequency]))
                  .average()
                  .orElse(0);
    }
    return costs(members, errorDeg, positions, centerDeg);
  }

  /** The same with the centre where one member stands exactly right at the first position. */
  double[][] costsAround(Standing start, List<SetPosition> positions, List<Standing> members) {
    double[][] errorDeg = members.stream().map(m -> at(m, null)).toArray(double[][]::new);
    double[] centerDeg = nominal() ? new double[frequencyHz.length] : at(start, positions.get(0));
    return costs(members, errorDeg, positions, centerDeg);
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
        double cutMm = nominal() && ask.cuts() ? cutToTargetMm(members.get(i), apartDeg) : 0;
        for (int k = 0; k < apartDeg.length; k++) {
          double leftDeg = Math.abs(apartDeg[k] + degPerMm(k) * cutMm);
          cost[p][i] =
              Math.max(cost[p][i], leftDeg / specification.frequencies().get(k).toleranceDeg());
        }
      }
    }
    return cost;
  }

  private double[] apart(double[] errorDeg, SetPosition position, double[] centerDeg) {
    double[] apartDeg = new double[errorDeg.length];
    for (int k = 0; k < apartDeg.length; k++) {
      double deg = errorDeg[k] - centerDeg[k] - position.offsetDeg(frequencyHz[k]);
      apartDeg[k] = specification.turns() == Turns.MODULO_360 ? WrappedPhase.wrapDeg(deg) : deg;
    }
    return apartDeg;
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
