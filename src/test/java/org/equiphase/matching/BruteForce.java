package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.TreeSet;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SetProblem.StretchRange;
import org.jspecify.annotations.Nullable;

/**
 * The answer by trying every treatment of every member and every choice of turns. The centre never
 * appears: members suit a common centre exactly if every two of them do. Whether amounts exist is
 * told by the absence of a negative cycle, the least total by a dual simplex.
 */
final class BruteForce {

  private static final double SPEED_OF_LIGHT = 299_792_458;
  private static final double SLACK_DEG = 0.5e-9;

  /** What is known of the optimum; {@code ties} are the actions of every optimal treatment. */
  record Answer(
      int replaced, int adjusted, double trimMm, double stretchMm, TreeSet<String> ties) {}

  private final SetProblem problem;
  private final int frequencies;
  private final List<Member> members;
  private final double[] degPerMm;
  private final double @Nullable [] centerDeg;
  private Action[] actions = new Action[0];
  private @Nullable Answer best;

  private BruteForce(SetProblem problem) {
    this.problem = problem;
    frequencies = problem.frequencies().size();
    members =
        problem.assemblies().stream()
            .filter(member -> !member.serial().equals(problem.masterSerial()))
            .toList();
    degPerMm =
        problem.frequencies().stream()
            .mapToDouble(limit -> 360 * limit.frequencyHz() / SPEED_OF_LIGHT / 1000)
            .toArray();
    centerDeg =
        switch (problem.basis()) {
          case SET -> null;
          case NOMINAL -> new double[frequencies];
          case MASTER ->
              problem.assemblies().stream()
                  .filter(member -> member.serial().equals(problem.masterSerial()))
                  .flatMapToDouble(m -> m.phaseErrorDeg().stream().mapToDouble(e -> e))
                  .toArray();
        };
  }

  /** Members must be in the order of their serial numbers. */
  static Answer solve(SetProblem problem) {
    BruteForce search = new BruteForce(problem);
    int n = search.members.size();
    for (int replaced = 0; replaced <= n; replaced++) {
      for (int adjusted = 0; adjusted <= n - replaced; adjusted++) {
        search.actions = new Action[n];
        search.treat(0, replaced, adjusted);
        if (search.best != null) {
          return search.best;
        }
      }
    }
    throw new IllegalStateException("replacing all always works");
  }

  private void treat(int i, int replaced, int adjusted) {
    if (i == members.size()) {
      if (replaced == 0 && adjusted == 0) {
        turns(0, new ArrayList<>());
      }
      return;
    }
    for (Action action : Action.values()) {
      int r = action == Action.REPLACE ? 1 : 0;
      int a = action == Action.TRIM || action == Action.STRETCH ? 1 : 0;
      if (r <= replaced && a <= adjusted && low(i, action) <= high(i, action)) {
        actions[i] = action;
        treat(i + 1, replaced - r, adjusted - a);
      }
    }
  }

  private double low(int i, Action action) {
    StretchRange stretcher = members.get(i).stretcher();
    return action == Action.STRETCH ? (stretcher == null ? 1 : -stretcher.maxMm()) : 0;
  }

  private double high(int i, Action action) {
    StretchRange stretcher = members.get(i).stretcher();
    return switch (action) {
      case STRETCH -> stretcher == null ? 0 : -stretcher.minMm();
      case TRIM -> members.get(i).trimAllowanceMm() / members.get(i).velocityFactor();
      default -> 0;
    };
  }

  /** A kept member with its turns chosen; index −1 stands for a given centre. */
  private record Kept(int index, double[] errorDeg, double[] limitDeg, double low, double high) {}

  private void turns(int i, List<Kept> kept) {
    if (i == 0 && centerDeg != null) {
      kept.add(new Kept(-1, centerDeg, new double[frequencies], 0, 0));
    }
    if (i == members.size()) {
      evaluate(kept);
      return;
    }
    if (actions[i] == Action.REPLACE) {
      turns(i + 1, kept);
      return;
    }
    double[] errorDeg = members.get(i).phaseErrorDeg().stream().mapToDouble(e -> e).toArray();
    double[] limitDeg =
        problem.frequencies().stream()
            .mapToDouble(
                limit ->
                    (limit.toleranceDeg() - limit.guardDeg())
                            * (actions[i] == Action.NONE ? 1 : problem.aimFraction())
                        + SLACK_DEG)
            .toArray();
    Kept plain = new Kept(i, errorDeg, limitDeg, low(i, actions[i]), high(i, actions[i]));
    if (problem.turns() == Turns.ABSOLUTE || kept.isEmpty()) {
      with(plain, kept);
    } else {
      turn(0, plain, kept);
    }
  }

  private void turn(int k, Kept next, List<Kept> kept) {
    if (k == frequencies) {
      with(next, kept);
      return;
    }
    Kept first = kept.get(0);
    double from = next.errorDeg[k] + degPerMm[k] * (next.low - first.high);
    double to = next.errorDeg[k] + degPerMm[k] * (next.high - first.low);
    double window = next.limitDeg[k] + first.limitDeg[k];
    int least = (int) Math.ceil((first.errorDeg[k] - window - to) / 360);
    int most = (int) Math.floor((first.errorDeg[k] + window - from) / 360);
    for (int m = least; m <= most; m++) {
      double[] turned = next.errorDeg.clone();
      turned[k] += 360 * m;
      turn(k + 1, new Kept(next.index, turned, next.limitDeg, next.low, next.high), kept);
    }
  }

  private void with(Kept next, List<Kept> kept) {
    for (Kept other : kept) {
      double most = Math.min(bound(next, other), next.high - other.low);
      double least = Math.max(-bound(other, next), next.low - other.high);
      if (least > most + 1e-12) {
        return;
      }
    }
    List<Kept> more = new ArrayList<>(kept);
    more.add(next);
    turns(next.index + 1, more);
  }

  /** Bound of y_i − y_j that follows from their meeting within limits at every frequency. */
  private double bound(Kept i, Kept j) {
    double bound = Double.POSITIVE_INFINITY;
    for (int k = 0; k < frequencies; k++) {
      double window = i.limitDeg[k] + j.limitDeg[k];
      bound = Math.min(bound, (window - i.errorDeg[k] + j.errorDeg[k]) / degPerMm[k]);
    }
    return bound;
  }

  private void evaluate(List<Kept> kept) {
    if (!feasible(kept)) {
      return;
    }
    double trimMm = least(kept, Action.TRIM, Double.POSITIVE_INFINITY);
    double stretchMm = least(kept, Action.STRETCH, trimMm + 1e-9);
    int replaced = (int) Arrays.stream(actions).filter(a -> a == Action.REPLACE).count();
    int touched = (int) Arrays.stream(actions).filter(a -> a != Action.NONE).count();
    Answer known = best;
    if (known != null) {
      double worse = trimMm - known.trimMm;
      if (Math.abs(worse) <= 1e-7) {
        worse = stretchMm - known.stretchMm;
      }
      if (worse > 1e-7) {
        return;
      }
      if (worse >= -1e-7) {
        known.ties.add(key());
        return;
      }
    }
    best = new Answer(replaced, touched - replaced, trimMm, stretchMm, new TreeSet<>());
    best.ties.add(key());
  }

  /** Sorts as the rule for ties does: replaced serial numbers first, then adjusted ones. */
  private String key() {
    StringBuilder key = new StringBuilder();
    for (Action action : actions) {
      key.append(action == Action.REPLACE ? 'a' : 'b');
    }
    for (Action action : actions) {
      key.append(action == Action.NONE ? 'b' : 'a');
    }
    return key.toString();
  }

  /** Shortest paths over all pairs find a negative cycle if there is one. */
  private boolean feasible(List<Kept> kept) {
    int n = kept.size();
    double[][] distance = new double[n + 1][n + 1];
    for (int i = 0; i < n; i++) {
      distance[n][i] = kept.get(i).high;
      distance[i][n] = -kept.get(i).low;
      for (int j = 0; j < n; j++) {
        distance[j][i] = i == j ? 0 : bound(kept.get(i), kept.get(j));
      }
    }
    for (int via = 0; via <= n; via++) {
      for (int i = 0; i <= n; i++) {
        for (int j = 0; j <= n; j++) {
          distance[i][j] = Math.min(distance[i][j], distance[i][via] + distance[via][j]);
        }
      }
    }
    for (int i = 0; i <= n; i++) {
      if (distance[i][i] < -1e-12) {
        return false;
      }
    }
    return true;
  }

  /** Least total of the members with one action; shortening y = x_2j − x_2j+1, x ≥ 0. */
  private double least(List<Kept> kept, Action wanted, double mostTrimMm) {
    int n = kept.size();
    double[] cost = new double[2 * n];
    double[] trims = new double[2 * n];
    List<double[]> rows = new ArrayList<>();
    List<Double> limits = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      Kept here = kept.get(i);
      Action action = here.index < 0 ? Action.NONE : actions[here.index];
      double unit = action == Action.TRIM ? members.get(here.index).velocityFactor() : 1;
      cost[2 * i] = cost[2 * i + 1] = action == wanted ? unit : 0;
      trims[2 * i] = action == Action.TRIM ? unit : 0;
      trims[2 * i + 1] = -trims[2 * i];
      rows.add(difference(n, i, -1));
      limits.add(here.high);
      rows.add(difference(n, -1, i));
      limits.add(-here.low);
      for (int j = 0; j < n; j++) {
        if (i != j) {
          rows.add(difference(n, i, j));
          limits.add(bound(here, kept.get(j)));
        }
      }
    }
    if (mostTrimMm < Double.POSITIVE_INFINITY) {
      rows.add(trims);
      limits.add(mostTrimMm);
    }
    return DualSimplex.minimum(
        cost, rows.toArray(double[][]::new), limits.stream().mapToDouble(l -> l).toArray());
  }

  private static double[] difference(int n, int i, int j) {
    double[] row = new double[2 * n];
    if (i >= 0) {
      row[2 * i] = 1;
      row[2 * i + 1] = -1;
    }
    if (j >= 0) {
      row[2 * j] -= 1;
      row[2 * j + 1] += 1;
    }
    return row;
  }
}
