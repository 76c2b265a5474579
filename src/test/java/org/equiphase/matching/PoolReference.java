package org.equiphase.matching;

import static java.util.Objects.requireNonNull;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;

/**
 * The pool problem by brute force, from its definition: every group that qualifies, its cuts by a
 * linear program, and a table over all subsets of the pool.
 */
final class PoolReference {

  private static final double SPEED_OF_LIGHT = 299_792_458;

  /** The linear program works to about this. */
  private static final double LP_SLACK = 1e-7;

  private final PoolProblem problem;
  private final int size;

  /** Greatest number of sets, and the least sum of their largest shares with that number. */
  record Best(int sets, double share) {

    Best with(double oneMoreShare) {
      return new Best(sets + 1, share + oneMoreShare);
    }

    boolean beats(Best other) {
      return sets > other.sets || sets == other.sets && share < other.share - 1e-12;
    }
  }

  PoolReference(PoolProblem problem) {
    this.problem = problem;
    size = problem.setSize() + problem.spares();
  }

  Best best() {
    int n = problem.candidates().size();
    Best[] best = new Best[1 << n];
    best[0] = new Best(0, 0);
    List<Integer> groups = new ArrayList<>();
    List<Double> shares = new ArrayList<>();
    for (int mask = 1; mask < 1 << n; mask++) {
      if (Integer.bitCount(mask) == size && qualifies(members(mask))) {
        groups.add(mask);
        shares.add(share(members(mask)));
      }
    }
    for (int mask = 1; mask < 1 << n; mask++) {
      int lowest = Integer.lowestOneBit(mask);
      best[mask] = best[mask ^ lowest];
      for (int g = 0; g < groups.size(); g++) {
        int group = groups.get(g);
        if ((group & lowest) != 0 && (group & mask) == group) {
          Best with = best[mask ^ group].with(shares.get(g));
          best[mask] = with.beats(best[mask]) ? with : best[mask];
        }
      }
    }
    return best[(1 << n) - 1];
  }

  private List<Candidate> members(int mask) {
    List<Candidate> members = new ArrayList<>();
    for (int i = 0; i < problem.candidates().size(); i++) {
      if ((mask >> i & 1) == 1) {
        members.add(problem.candidates().get(i));
      }
    }
    return members;
  }

  private boolean qualifies(List<Candidate> group) {
    if (group.stream().allMatch(member -> member.cut() == null)) {
      return leastMargin(group) >= -1e-9;
    }
    return !Double.isNaN(leastTrimMm(group));
  }

  /** What is left, at the tightest limit, between the spread of an uncut group and the window. */
  private double leastMargin(List<Candidate> group) {
    double margin = Double.POSITIVE_INFINITY;
    for (Candidate a : group) {
      for (Candidate b : group) {
        for (int k = 0; k < problem.limits().size(); k++) {
          PoolLimit limit = problem.limits().get(k);
          double apart = a.phaseErrorDeg().get(k) - b.phaseErrorDeg().get(k);
          margin = Math.min(margin, 2 * limit.toleranceDeg() - apart);
          if (limit.lossSpreadDb() != null) {
            margin = Math.min(margin, limit.lossSpreadDb() - (loss(a, k) - loss(b, k)));
          }
        }
      }
    }
    return margin;
  }

  private double share(List<Candidate> group) {
    double share = 0;
    for (Candidate a : group) {
      for (Candidate b : group) {
        for (int k = 0; k < problem.limits().size(); k++) {
          double apart = a.phaseErrorDeg().get(k) - b.phaseErrorDeg().get(k);
          share = Math.max(share, apart / (2 * problem.limits().get(k).toleranceDeg()));
        }
      }
    }
    return share;
  }

  /** The least total trim that brings a group into its window, or NaN if none does. */
  double leastTrimMm(List<Candidate> group) {
    List<double[]> rows = new ArrayList<>();
    List<Double> limits = new ArrayList<>();
    for (int i = 0; i < group.size(); i++) {
      double[] row = new double[group.size()];
      row[i] = 1;
      rows.add(row);
      Cut cut = group.get(i).cut();
      limits.add(cut == null ? 0 : cut.trimAllowanceMm());
      for (int j = 0; j < group.size(); j++) {
        for (int k = 0; k < problem.limits().size() && i != j; k++) {
          PoolLimit limit = problem.limits().get(k);
          rows.add(difference(i, phaseGain(group.get(i), k), j, phaseGain(group.get(j), k), row));
          limits.add(
              2 * limit.toleranceDeg()
                  + LP_SLACK
                  - group.get(i).phaseErrorDeg().get(k)
                  + group.get(j).phaseErrorDeg().get(k));
          if (limit.lossSpreadDb() != null) {
            rows.add(difference(i, lossGain(group.get(i), k), j, lossGain(group.get(j), k), row));
            limits.add(
                limit.lossSpreadDb() + LP_SLACK - loss(group.get(i), k) + loss(group.get(j), k));
          }
        }
      }
    }
    double[] cost = new double[group.size()];
    java.util.Arrays.fill(cost, 1);
    try {
      return DualSimplex.minimum(
          cost,
          rows.toArray(double[][]::new),
          limits.stream().mapToDouble(Double::doubleValue).toArray());
    } catch (IllegalStateException infeasible) {
      return Double.NaN;
    }
  }

  private static double[] difference(int i, double gainI, int j, double gainJ, double[] like) {
    double[] row = new double[like.length];
    row[i] = gainI;
    row[j] = -gainJ;
    return row;
  }

  private double phaseGain(Candidate candidate, int k) {
    Cut cut = candidate.cut();
    double hz = problem.limits().get(k).frequencyHz();
    return cut == null ? 0 : 0.36 * hz / (cut.velocityFactor() * SPEED_OF_LIGHT);
  }

  private static double lossGain(Candidate candidate, int k) {
    Cut cut = candidate.cut();
    return cut == null ? 0 : -requireNonNull(cut.lossDbPerM()).get(k) / 1000;
  }

  private static double loss(Candidate candidate, int k) {
    return requireNonNull(candidate.insertionLossDb()).get(k);
  }
}
