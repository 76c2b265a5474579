package org.equiphase.building;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.matching.Assignment;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.workorder.SetPosition;

/**
 * The sets that a rule makes of a pool.
 *
 * @param sets members in the order of the positions
 * @param upperBound no choice gives more sets
 * @param proven whether there are as many as the bound
 */
record Proposal(List<List<Standing>> sets, int upperBound, boolean proven) {

  /** Ends of a search on tightness are this close together, in shares of the limit. */
  private static final double SHARE_STEP = 1.0 / 128;

  private static final long WORK = PoolSolver.DEFAULT_WORK_LIMIT;
  private static final long SEARCH_WORK = WORK / 4;

  /** Above this many, staggered positions are tried with the first ones only. */
  private static final int MOST_STAGGERED = 300;

  Proposal {
    sets = List.copyOf(sets);
  }

  static Proposal of(Pool pool, Ask ask, List<Standing> taking) {
    List<Standing> members =
        pool.fitting(taking).stream().sorted(Comparator.comparing(m -> m.assembly().id())).toList();
    if (ask.staggered()) {
      return pool.nominal() ? placed(pool, ask, members) : staggered(pool, ask, members);
    }
    PoolSolution most = pool.solve(members, 1, WORK);
    int wanted =
        ask.wantedSets() == null
            ? most.sets().size()
            : Math.min(ask.wantedSets(), most.sets().size());
    PoolSolution chosen =
        switch (ask.rule()) {
          case MOST_SETS -> most;
          case TIGHTEST -> tightest(pool, members, wanted, most);
          case OLDEST_FIRST -> oldest(pool, ask, members, wanted, most);
        };
    Map<String, Standing> bySerial =
        members.stream().collect(Collectors.toMap(m -> m.assembly().serial(), Function.identity()));
    List<List<Standing>> sets =
        chosen.sets().stream()
            .map(set -> set.serials().stream().map(bySerial::get).toList())
            .toList();
    if (ask.rule() != Rule.MOST_SETS && sets.size() > wanted) {
      sets = closest(pool, ask, sets, wanted);
    }
    return new Proposal(sets, most.upperBound(), most.optimal());
  }

  /** The least share of its limit with which there are still so many sets. */
  private static PoolSolution tightest(
      Pool pool, List<Standing> members, int wanted, PoolSolution most) {
    PoolSolution best = most;
    double low = 0;
    double high = 1;
    while (wanted > 0 && high - low > SHARE_STEP) {
      double share = (low + high) / 2;
      PoolSolution solution = pool.solve(members, share, SEARCH_WORK);
      if (solution.sets().size() >= wanted) {
        best = solution;
        high = share;
      } else {
        low = share;
      }
    }
    return best;
  }

  /** The fewest of the oldest that still give so many sets. */
  private static PoolSolution oldest(
      Pool pool, Ask ask, List<Standing> members, int wanted, PoolSolution most) {
    PoolSolution best = most;
    int low = wanted * ask.setSize() - 1;
    int high = members.size();
    while (wanted > 0 && high - low > 1) {
      int count = (low + high) / 2;
      PoolSolution solution = pool.solve(members.subList(0, count), 1, SEARCH_WORK);
      if (solution.sets().size() >= wanted) {
        best = solution;
        high = count;
      } else {
        low = count;
      }
    }
    return best;
  }

  private static List<List<Standing>> closest(
      Pool pool, Ask ask, List<List<Standing>> sets, int most) {
    return sets.stream()
        .sorted(Comparator.comparing(set -> pool.check(set, ask.positions()).share()))
        .limit(most)
        .toList();
  }

  /**
   * Against a nominal target who stands where is an assignment problem: as many members as there
   * are sets to each position, each where it lies inside. Its answer is exact but for the spread of
   * loss, by which members are put together afterwards.
   */
  private static Proposal placed(Pool pool, Ask ask, List<Standing> members) {
    List<Standing> taken = members.subList(0, Math.min(members.size(), MOST_STAGGERED));
    double[][] shares = pool.shares(ask.positions(), taken);
    int bound = taken.size() / ask.setSize();
    int most = greatest(0, bound, sets -> isPossible(shares, sets, taken.size()));
    int wanted = ask.wantedSets() == null ? most : Math.min(ask.wantedSets(), most);
    int choice =
        ask.rule() == Rule.OLDEST_FIRST
            ? taken.size()
                - greatest(0, taken.size(), n -> isPossible(shares, wanted, taken.size() - n))
            : taken.size();
    int[] columns = Assignment.leastWorst(repeated(shares, wanted, choice));
    List<List<Standing>> lines = new ArrayList<>();
    for (int p = 0; p < ask.setSize(); p++) {
      List<Standing> line = new ArrayList<>();
      for (int set = 0; set < wanted; set++) {
        line.add(taken.get(columns[set * ask.setSize() + p]));
      }
      lines.add(pool.byLoss(line));
    }
    List<List<Standing>> sets = new ArrayList<>();
    for (int each = 0; each < wanted; each++) {
      int set = each;
      List<Standing> together = lines.stream().map(line -> line.get(set)).toList();
      if (pool.check(together, ask.positions()).inside()) {
        sets.add(together);
      }
    }
    boolean all = taken.size() == members.size();
    int upperBound = all ? most : members.size() / ask.setSize();
    return new Proposal(sets, upperBound, sets.size() == wanted && most == upperBound);
  }

  /** The greatest count that is possible, where every smaller one is, too. */
  private static int greatest(int possible, int most, IntPredicate isPossible) {
    int low = possible;
    int high = most + 1;
    while (high - low > 1) {
      int middle = (low + high) / 2;
      if (isPossible.test(middle)) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Whether so many of each position find a member inside among the first ones. */
  private static boolean isPossible(double[][] shares, int sets, int choice) {
    if (sets * shares.length > choice) {
      return false;
    }
    double[][] outside =
        Arrays.stream(repeated(shares, sets, choice))
            .map(row -> Arrays.stream(row).map(share -> share > 1 + Pool.SLACK ? 1 : 0).toArray())
            .toArray(double[][]::new);
    return Assignment.sum(outside, Assignment.leastSum(outside)) == 0;
  }

  /** All positions of one set after another, for the first members. */
  private static double[][] repeated(double[][] shares, int sets, int choice) {
    double[][] rows = new double[sets * shares.length][];
    for (int row = 0; row < rows.length; row++) {
      rows[row] = Arrays.copyOf(shares[row % shares.length], choice);
    }
    return rows;
  }

  /**
   * One set after the other, each time the one whose members lie nearest to what their positions
   * ask. There is no proof that more are impossible.
   */
  private static Proposal staggered(Pool pool, Ask ask, List<Standing> members) {
    int bound = members.size() / ask.setSize();
    int wanted = ask.wantedSets() == null ? bound : Math.min(bound, ask.wantedSets());
    List<Standing> left =
        new ArrayList<>(members.subList(0, Math.min(members.size(), MOST_STAGGERED)));
    List<List<Standing>> sets = new ArrayList<>();
    while (sets.size() < wanted) {
      List<Standing> best = List.of();
      double least = Double.POSITIVE_INFINITY;
      for (Standing start : left) {
        List<Standing> set = around(pool, ask.positions(), start, left);
        double share = pool.check(set, ask.positions()).share();
        if (share < least) {
          least = share;
          best = set;
        }
      }
      if (best.isEmpty() || !pool.check(best, ask.positions()).inside()) {
        break;
      }
      sets.add(best);
      left.removeAll(best);
    }
    return new Proposal(sets, bound, sets.size() == bound);
  }

  /** The set of those nearest to their positions when one stands at the first. */
  private static List<Standing> around(
      Pool pool, List<SetPosition> positions, Standing start, List<Standing> left) {
    int[] columns = Assignment.leastSum(pool.costs().around(start, positions, left));
    List<Standing> set = new ArrayList<>();
    for (int column : columns) {
      set.add(left.get(column));
    }
    return set;
  }
}
