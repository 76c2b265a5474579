package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.matching.SetProblem.Member;
import org.jspecify.annotations.Nullable;

/**
 * Finds the best assemblies to put in the place of a member that does not fit. Each candidate is
 * judged by the answer of the set problem with it in that place and, where it comes from another
 * set, by that set's answer with the member in the candidate's place. They rank as the set problem
 * ranks: fewest members that can't be brought in, fewest to adjust, least length moved, all over
 * both sets and less what the other set needs anyway; then the smaller serial number.
 *
 * <p>A set never needs less with a member more, so the answer without the place filled bounds what
 * a candidate can reach; candidates that can't pass those found are not solved.
 */
public final class SwapSearch {

  private static final double EQUAL_MM = 1e-6;
  private static final long WORK_PER_SET = 5_000_000;

  private final SetProblem frame;
  private final List<Member> staying;
  private final Map<SetProblem, Rank> needed = new IdentityHashMap<>();
  private boolean proven = true;

  private SwapSearch(SetProblem frame, List<Member> staying) {
    this.frame = frame;
    this.staying = staying;
  }

  /**
   * An assembly that may come.
   *
   * @param here the assembly as it would stand in the place, its errors counted there
   * @param elsewhere the set it would leave; null where it lies in the pool
   */
  public record Candidate(Member here, @Nullable Elsewhere elsewhere) {}

  /**
   * Another set, of which a candidate is a member.
   *
   * @param frame its basis, turns and limits, one object for all candidates of the set; the
   *     assemblies in it do not count
   * @param staying its other members
   * @param now the candidate as it stands there
   * @param instead the leaving member as it would stand there
   */
  public record Elsewhere(SetProblem frame, List<Member> staying, Member now, Member instead) {
    public Elsewhere {
      staying = List.copyOf(staying);
    }
  }

  /**
   * What a swap comes to.
   *
   * @param serial the assembly that comes
   * @param here the set with it
   * @param there the other set with the member that left; null for the pool
   * @param replaced members of both sets that can't be brought in, less those of the other set now
   * @param adjusted the same for members to adjust, and totalTrimMm for length moved
   */
  public record Swap(
      String serial,
      SetSolution here,
      @Nullable SetSolution there,
      int replaced,
      int adjusted,
      double totalTrimMm) {}

  /**
   * The best swaps, the best first.
   *
   * @param tried candidates that were solved; the others were skipped or not reached
   * @param proven whether no better ones exist among the candidates
   */
  public record Answer(List<Swap> best, int tried, boolean proven) {
    public Answer {
      best = List.copyOf(best);
    }
  }

  private record Rank(int replaced, int adjusted, double totalTrimMm) {

    static final Rank NONE = new Rank(0, 0, 0);

    static Rank of(SetSolution solution) {
      return new Rank(solution.replaced(), solution.adjusted(), solution.totalTrimMm());
    }

    Rank plus(Rank other) {
      return new Rank(
          replaced + other.replaced, adjusted + other.adjusted, totalTrimMm + other.totalTrimMm);
    }

    Rank less(Rank other) {
      return new Rank(
          replaced - other.replaced, adjusted - other.adjusted, totalTrimMm - other.totalTrimMm);
    }

    int compare(Rank other) {
      if (replaced != other.replaced) {
        return Integer.compare(replaced, other.replaced);
      }
      if (adjusted != other.adjusted) {
        return Integer.compare(adjusted, other.adjusted);
      }
      double apart = totalTrimMm - other.totalTrimMm;
      return Math.abs(apart) <= EQUAL_MM ? 0 : Double.compare(apart, 0);
    }
  }

  private record Bounded(Candidate candidate, Rank bound, double farDeg) {}

  private record Ranked(Swap swap, Rank rank) {

    static final Comparator<Ranked> BEST_FIRST =
        (a, b) -> {
          int rank = a.rank.compare(b.rank);
          return rank != 0 ? rank : a.swap.serial().compareTo(b.swap.serial());
        };
  }

  /**
   * Searches.
   *
   * @param frame basis, turns and limits of the set; the assemblies in it do not count
   * @param staying its members but for the one that leaves; must hold the master, where there is
   *     one
   * @param most how many swaps to find, 1 or more
   * @param maxTried how many candidates to solve at most, 1 or more; beyond, the answer is not
   *     proven
   * @throws InvalidProblemException if a set with a candidate in it breaks the rules of {@link
   *     SetProblem}
   */
  public static Answer best(
      SetProblem frame, List<Member> staying, List<Candidate> candidates, int most, int maxTried) {
    return new SwapSearch(frame, List.copyOf(staying)).run(candidates, most, maxTried);
  }

  private Answer run(List<Candidate> candidates, int most, int maxTried) {
    SetSolution without = staying.isEmpty() ? null : solve(frame, staying);
    Rank bound = without == null ? Rank.NONE : Rank.of(without);
    List<Double> centerDeg =
        without == null ? frame.frequencies().stream().map(f -> 0.0).toList() : without.centerDeg();
    List<Bounded> bounded = new ArrayList<>();
    for (Candidate candidate : candidates) {
      Elsewhere elsewhere = candidate.elsewhere();
      bounded.add(
          new Bounded(
              candidate,
              elsewhere == null ? bound : bound.plus(least(elsewhere)),
              far(candidate.here(), centerDeg)));
    }
    bounded.sort(
        Comparator.comparing(Bounded::bound, Rank::compare)
            .thenComparingDouble(Bounded::farDeg)
            .thenComparing(b -> b.candidate().here().serial()));
    List<Ranked> best = new ArrayList<>();
    int tried = 0;
    for (Bounded each : bounded) {
      if (best.size() == most && cannotPass(each, best.get(most - 1))) {
        continue;
      }
      if (tried == maxTried) {
        proven = false;
        break;
      }
      tried++;
      best.add(swap(each.candidate()));
      best.sort(Ranked.BEST_FIRST);
      if (best.size() > most) {
        best.remove(most);
      }
    }
    return new Answer(best.stream().map(Ranked::swap).toList(), tried, proven);
  }

  private static boolean cannotPass(Bounded candidate, Ranked worst) {
    int rank = candidate.bound().compare(worst.rank());
    String serial = candidate.candidate().here().serial();
    return rank > 0 || (rank == 0 && serial.compareTo(worst.swap().serial()) > 0);
  }

  /** The least that another set can come to, less what it needs now. */
  private Rank least(Elsewhere there) {
    Rank without =
        there.staying().isEmpty() ? Rank.NONE : Rank.of(solve(there.frame(), there.staying()));
    return without.less(now(there));
  }

  private Rank now(Elsewhere there) {
    Rank known = needed.get(there.frame());
    if (known == null) {
      known = Rank.of(solve(there.frame(), with(there.staying(), there.now())));
      needed.put(there.frame(), known);
    }
    return known;
  }

  private Ranked swap(Candidate candidate) {
    SetSolution here = solve(frame, with(staying, candidate.here()));
    Elsewhere elsewhere = candidate.elsewhere();
    SetSolution there =
        elsewhere == null
            ? null
            : solve(elsewhere.frame(), with(elsewhere.staying(), elsewhere.instead()));
    Rank rank = Rank.of(here);
    if (elsewhere != null && there != null) {
      rank = rank.plus(Rank.of(there)).less(now(elsewhere));
    }
    return new Ranked(
        new Swap(
            candidate.here().serial(),
            here,
            there,
            rank.replaced(),
            rank.adjusted(),
            rank.totalTrimMm()),
        rank);
  }

  private SetSolution solve(SetProblem frame, List<Member> members) {
    SetSolution solution =
        SetSolver.solve(
            new SetProblem(
                frame.basis(),
                frame.masterSerial(),
                frame.turns(),
                frame.aimFraction(),
                frame.frequencies(),
                members),
            WORK_PER_SET);
    proven &= solution.proven();
    return solution;
  }

  private static List<Member> with(List<Member> members, Member added) {
    List<Member> all = new ArrayList<>(members);
    all.add(added);
    return all;
  }

  /** How far a candidate lies from a centre, by the worst frequency. */
  private double far(Member member, List<Double> centerDeg) {
    double worst = 0;
    for (int k = 0; k < centerDeg.size(); k++) {
      double apart = member.phaseErrorDeg().get(k) - centerDeg.get(k);
      double counted = frame.turns() == Turns.MODULO_360 ? Math.IEEEremainder(apart, 360) : apart;
      worst = Math.max(worst, Math.abs(counted));
    }
    return worst;
  }
}
