package org.equiphase.matching;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Random;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.Member;
import org.equiphase.matching.SwapSearch.Candidate;
import org.equiphase.matching.SwapSearch.Elsewhere;
import org.equiphase.matching.SwapSearch.Swap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Validation: every swap tried, each set of it answered by {@link BruteForce}, which shares no code
 * with the solver.
 */
class SwapSearchTest {

  private static final double VELOCITY_FACTOR = 0.7;
  private static final double GHZ = 1e9;

  private static Member member(String serial, double... errorDeg) {
    List<Double> errors = new ArrayList<>();
    for (double e : errorDeg) {
      errors.add(e);
    }
    return new Member(serial, VELOCITY_FACTOR, errors, 6, null);
  }

  private static SetProblem frame(Basis basis, Turns turns, List<Member> any) {
    return new SetProblem(
        basis,
        basis == Basis.MASTER ? "A0" : null,
        turns,
        0.5,
        List.of(new FrequencyLimit(2 * GHZ, 3, 0.5), new FrequencyLimit(2.2 * GHZ, 3, 0.5)),
        any);
  }

  /** A length error and a little that is no pure delay. */
  private static Member drawn(String serial, Random random, Turns turns) {
    double lengthDeg = 14 * (random.nextDouble() - 0.6);
    double turn = turns == Turns.MODULO_360 ? 360 * random.nextInt(2) : 0;
    return member(serial, lengthDeg + turn, 1.1 * lengthDeg + turn + 0.5 * random.nextGaussian());
  }

  private record Cost(String serial, int replaced, int adjusted, double lengthMm) {
    static Cost of(String serial, BruteForce.Answer a) {
      return new Cost(serial, a.replaced(), a.adjusted(), a.trimMm() + a.stretchMm());
    }
  }

  private static BruteForce.Answer exhaustive(SetProblem frame, List<Member> members) {
    List<Member> sorted = members.stream().sorted(Comparator.comparing(Member::serial)).toList();
    return BruteForce.solve(
        new SetProblem(
            frame.basis(),
            frame.masterSerial(),
            frame.turns(),
            frame.aimFraction(),
            frame.frequencies(),
            sorted));
  }

  private static List<Member> with(List<Member> members, Member added) {
    List<Member> all = new ArrayList<>(members);
    all.add(added);
    return all;
  }

  @ParameterizedTest
  @EnumSource(Basis.class)
  void findsWhatExhaustiveSearchFinds(Basis basis) {
    for (long seed = 0; seed < 60; seed++) {
      Turns turns = seed % 3 == 0 ? Turns.MODULO_360 : Turns.ABSOLUTE;
      Random random = new Random(1000 * basis.ordinal() + seed);
      List<Member> staying = new ArrayList<>();
      for (int i = 0; i < 2 + random.nextInt(2); i++) {
        staying.add(drawn("A" + i, random, turns));
      }
      SetProblem frame = frame(basis, turns, staying);
      List<Member> others = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        others.add(drawn("B" + i, random, Turns.ABSOLUTE));
      }
      SetProblem otherFrame = frame(Basis.SET, Turns.ABSOLUTE, others);
      Member leaving = drawn("L", random, Turns.ABSOLUTE);

      List<Candidate> candidates = new ArrayList<>();
      List<Cost> costs = new ArrayList<>();
      for (int i = 0; i < 4; i++) {
        Member pooled = drawn("P" + i, random, turns);
        candidates.add(new Candidate(pooled, null));
        costs.add(Cost.of(pooled.serial(), exhaustive(frame, with(staying, pooled))));
      }
      for (Member other : others) {
        List<Member> rest = new ArrayList<>(others);
        rest.remove(other);
        candidates.add(new Candidate(other, new Elsewhere(otherFrame, rest, other, leaving)));
        BruteForce.Answer here = exhaustive(frame, with(staying, other));
        BruteForce.Answer there = exhaustive(otherFrame, with(rest, leaving));
        BruteForce.Answer now = exhaustive(otherFrame, others);
        costs.add(
            new Cost(
                other.serial(),
                here.replaced() + there.replaced() - now.replaced(),
                here.adjusted() + there.adjusted() - now.adjusted(),
                here.trimMm() + there.trimMm() - now.trimMm()));
      }
      costs.sort(
          Comparator.comparingInt(Cost::replaced)
              .thenComparingInt(Cost::adjusted)
              .thenComparingDouble(c -> Math.rint(c.lengthMm() * 1e5))
              .thenComparing(Cost::serial));

      SwapSearch.Answer answer = SwapSearch.best(frame, staying, candidates, 3, 1000);
      assertThat(answer.proven()).as("seed %d", seed).isTrue();
      for (int i = 0; i < 3; i++) {
        Swap swap = answer.best().get(i);
        Cost expected = costs.get(i);
        assertThat(swap.replaced()).as("seed %d, %d", seed, i).isEqualTo(expected.replaced());
        assertThat(swap.adjusted()).as("seed %d, %d", seed, i).isEqualTo(expected.adjusted());
        assertThat(swap.totalTrimMm())
            .as("seed %d, %d", seed, i)
            .isCloseTo(expected.lengthMm(), within(1e-5));
        // Lengths that agree to within the two solvers' accuracy may go either way.
        assertThat(
                costs.stream()
                    .filter(c -> c.replaced() == expected.replaced())
                    .filter(c -> c.adjusted() == expected.adjusted())
                    .filter(c -> Math.abs(c.lengthMm() - expected.lengthMm()) < 2e-5)
                    .map(Cost::serial))
            .as("seed %d, %d", seed, i)
            .contains(swap.serial());
      }
    }
  }

  /** A set that is to be centred anew, with members that were cut and have little left to cut. */
  @Test
  void aTargetSetAnewIsTheBestThereIs() {
    for (long seed = 0; seed < 80; seed++) {
      Random random = new Random(7000 + seed);
      List<Member> members = new ArrayList<>();
      for (int i = 0; i < 4; i++) {
        Member drawn = drawn("A" + i, random, Turns.ABSOLUTE);
        members.add(
            new Member(
                drawn.serial(), VELOCITY_FACTOR, drawn.phaseErrorDeg(), random.nextInt(5), null));
      }
      BruteForceTest.compare(seed, frame(Basis.SET, Turns.ABSOLUTE, members));
    }
  }

  @Test
  void equalSwapsGoBySerial() {
    List<Member> staying = List.of(member("A0", 0, 0));
    SetProblem frame = frame(Basis.NOMINAL, Turns.ABSOLUTE, staying);
    List<Candidate> candidates =
        List.of(
            new Candidate(member("P2", 1, 1), null),
            new Candidate(member("P1", 1, 1), null),
            new Candidate(member("P3", 0, 0), null));
    SwapSearch.Answer answer = SwapSearch.best(frame, staying, candidates, 2, 10);
    assertThat(answer.best()).extracting(Swap::serial).containsExactly("P1", "P2");
  }

  @Test
  void aLimitOnTheTriesIsSaid() {
    List<Member> staying = List.of(member("A0", 0, 0));
    SetProblem frame = frame(Basis.NOMINAL, Turns.ABSOLUTE, staying);
    List<Candidate> candidates =
        List.of(new Candidate(member("P1", 0, 0), null), new Candidate(member("P2", -9, -9), null));
    SwapSearch.Answer answer = SwapSearch.best(frame, staying, candidates, 1, 1);
    assertThat(answer.tried()).isEqualTo(1);
    assertThat(answer.proven()).isTrue();
    SwapSearch.Answer two = SwapSearch.best(frame, staying, candidates, 2, 1);
    assertThat(two.proven()).isFalse();
  }
}
