package org.equiphase.building;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.matching.Basis;
import org.equiphase.matching.PoolProblem;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.PoolLimit;
import org.equiphase.matching.PoolSet;
import org.equiphase.matching.PoolSolution;
import org.equiphase.matching.PoolSolver;
import org.equiphase.matching.SolvedPools;
import org.equiphase.matching.Turns;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

/** Proposals by each rule, and the check of a set. */
class ProposalTest {

  private static final double HERTZ = 2.8e9;

  /** Moves the phase by one degree: 360·f·d/(v·c) = 1, so d = v·c/(360·f) in millimetres. */
  private static final double MM_PER_DEG =
      PoolSamples.VELOCITY_FACTOR * 299_792_458 / (360 * HERTZ) * 1e3;

  static Stream<String> cases() {
    return SolvedPools.ids();
  }

  /** src/test/resources/pool/README.md tells where the solved pools come from. */
  @ParameterizedTest
  @MethodSource("cases")
  void mostSetsAreTheSolversOnSolvedPools(String id) {
    JsonNode json = SolvedPools.read(id);
    double toleranceDeg = json.get("window_deg").asDouble() / 2;
    int setSize = json.get("set_size").asInt();
    List<List<Double>> errorDeg = new ArrayList<>();
    json.get("residual_deg")
        .forEach(row -> errorDeg.add(row.valueStream().map(JsonNode::asDouble).toList()));
    double[] hertz =
        IntStream.rangeClosed(1, json.get("frequencies").asInt())
            .mapToDouble(k -> k * 1e9)
            .toArray();

    Proposal proposal =
        propose(
            PoolSamples.specification(Basis.SET, Turns.ABSOLUTE, 0, toleranceDeg, hertz),
            PoolSamples.ask(Rule.MOST_SETS, null, false, setSize),
            errorDeg);

    assertThat(proposal.sets()).hasSize(json.get("optimum").get("max_sets").asInt());
    assertThat(proposal.upperBound()).isEqualTo(proposal.sets().size());
    assertThat(proposal.proven()).isTrue();
    List<Candidate> candidates = new ArrayList<>();
    errorDeg.forEach(e -> candidates.add(Candidate.of("A" + candidates.size(), e)));
    List<PoolLimit> limits = new ArrayList<>();
    for (double each : hertz) {
      limits.add(new PoolLimit(each, toleranceDeg, null));
    }
    PoolSolution solution = PoolSolver.solve(new PoolProblem(setSize, 0, limits, candidates));
    assertThat(serials(proposal))
        .containsExactlyInAnyOrderElementsOf(
            solution.sets().stream().map(PoolSet::serials).toList());
  }

  /** One pair lies 1° apart, the other 3°: asked for one set, the first is the tighter. */
  @Test
  void theTightestOfSoManySets() {
    Proposal proposal =
        propose(oneFrequency(2), PoolSamples.ask(Rule.TIGHTEST, 1, false, 2), 0, 3, 20, 21);

    assertThat(serials(proposal)).containsExactly(List.of("A2", "A3"));
    assertThat(proposal.upperBound()).isEqualTo(2);
  }

  /** A0 goes with A3 only; the first pair that the oldest give is A1 with A2. */
  @Test
  void theOldestOfSoManySets() {
    Proposal proposal =
        propose(oneFrequency(2), PoolSamples.ask(Rule.OLDEST_FIRST, 1, false, 2), 0, 20, 23, 1, 60);

    assertThat(serials(proposal)).containsExactly(List.of("A1", "A2"));
  }

  /** Errors −1, 2 and 4 reach 5° where 6° are allowed; the rest without 4 reaches 3°. */
  @Test
  void aSetIsCheckedAsByHand() {
    SetCheck check = check(oneFrequency(3), false, -1, 2, 4);

    assertThat(check.inside()).isTrue();
    assertThat(check.phases().get(0).used()).isCloseTo(5, within(1e-12));
    assertThat(check.phases().get(0).limit()).isCloseTo(6, within(1e-12));
    assertThat(check.share()).isCloseTo(5 / 6.0, within(1e-12));
    assertThat(check.phases().get(0).low()).isEqualTo("A0");
    assertThat(check.phases().get(0).high()).isEqualTo("A2");
    assertThat(check.worst()).isEqualTo("A0");
    assertThat(check.aboutDeg()).containsExactly(List.of(-2.5), List.of(0.5), List.of(2.5));
    assertThat(check(oneFrequency(2.4), false, -1, 2, 4).inside()).isFalse();
  }

  /** −4, 0 and 3 reach 7° where 6° are allowed: cut the longest by what turns the one missing. */
  @Test
  void cutsBringASetTogether() {
    Specification specification = PoolSamples.specification(Basis.SET, Turns.ABSOLUTE, 5, 3, HERTZ);

    assertThat(check(specification, false, -4, 0, 3).inside()).isFalse();
    SetCheck cut = check(specification, true, -4, 0, 3);
    assertThat(cut.inside()).isTrue();
    assertThat(cut.trimMm()).containsOnlyKeys("A0");
    assertThat(cut.trimMm().get("A0")).isCloseTo(MM_PER_DEG, within(1e-6));
    assertThat(cut.phases().get(0).used()).isCloseTo(7, within(1e-12));
    assertThat(cut.phases().get(0).usedAfter()).isCloseTo(6, within(1e-6));
  }

  /** Where turns don't count, 179° and −179° are 2° apart. */
  @Test
  void errorsLieOnACircleWhereTurnsDoNotCount() {
    Specification specification =
        PoolSamples.specification(Basis.SET, Turns.MODULO_360, 0, 2, HERTZ);

    assertThat(check(specification, false, 179, -179, 178).phases().get(0).used())
        .isCloseTo(3, within(1e-9));
    Proposal proposal =
        propose(
            specification, PoolSamples.ask(Rule.MOST_SETS, null, false, 2), 179, 0, -179, 90, 2);
    assertThat(serials(proposal))
        .containsExactlyInAnyOrder(List.of("A0", "A2"), List.of("A1", "A4"));
  }

  /** Against a nominal target each counts for itself: 4° lies outside ±3°, though near the 2°. */
  @Test
  void againstANominalTargetEachHasToBeNearIt() {
    Proposal proposal =
        propose(
            PoolSamples.specification(Basis.NOMINAL, Turns.ABSOLUTE, 0, 3, HERTZ),
            PoolSamples.ask(Rule.MOST_SETS, null, false, 2),
            -2.9,
            4,
            2,
            2.5,
            -3.1);

    assertThat(proposal.sets()).hasSize(1);
    assertThat(serials(proposal).get(0)).doesNotContain("A1", "A4");
  }

  /** 5 mm turn 24.2°: 4° too long is cut by 4°, 30° is too much, and too short stays so. */
  @Test
  void againstANominalTargetTooLongOnesCountWithTheirCut() {
    Specification specification =
        PoolSamples.specification(Basis.NOMINAL, Turns.ABSOLUTE, 5, 3, HERTZ);
    Ask ask = PoolSamples.ask(Rule.MOST_SETS, null, true, 2);

    assertThat(serials(propose(specification, ask, -2.9, -4, 4, -30)))
        .containsExactly(List.of("A0", "A1"));
    SetCheck check = check(specification, true, -2.9, -4);
    assertThat(check.inside()).isTrue();
    assertThat(check.trimMm()).containsOnlyKeys("A1");
    assertThat(check.trimMm().get("A1")).isCloseTo(4 * MM_PER_DEG, within(1e-9));
    assertThat(check.phases().get(0).usedAfter()).isCloseTo(2.9, within(1e-9));
    assertThat(check(specification, true, -30).trimMm()).isEmpty();
    assertThat(
            propose(specification, PoolSamples.ask(Rule.MOST_SETS, null, false, 2), -2.9, -4, 0)
                .sets())
        .hasSize(1);
  }

  /** −4° at f and −10° at 2·f: a cut turns them by x and 2·x, and x − 4 = 10 − 2·x at x = 14/3. */
  @Test
  void aCutToTheTargetBalancesItsFrequencies() {
    Specification specification =
        PoolSamples.specification(Basis.NOMINAL, Turns.ABSOLUTE, 5, 3, HERTZ, 2 * HERTZ);
    Standings standings = PoolSamples.standings(specification, List.of(List.of(-4.0, -10.0)));
    Ask ask = PoolSamples.ask(Rule.MOST_SETS, null, true, 2);

    SetCheck check =
        new Pool(specification, standings, ask).check(standings.members(), ask.positions());

    assertThat(check.trimMm().get("A0")).isCloseTo(14 / 3.0 * MM_PER_DEG, within(1e-9));
    assertThat(check.share()).isCloseTo(2 / 3.0 / 3, within(1e-9));
  }

  /** Positions that ask for 0° and −4° within ±3°, against trying every choice of pairs. */
  @Test
  void againstANominalTargetStaggeredSetsAreAsManyAsThereCanBe() {
    Specification specification =
        PoolSamples.specification(Basis.NOMINAL, Turns.ABSOLUTE, 0, 3, HERTZ);
    Ask ask =
        new Ask(
            Rule.MOST_SETS,
            null,
            100,
            false,
            List.of(new SetPosition(0, 0, "a", 0, 0), new SetPosition(0, 1, "b", -4, 0)));
    Random random = new Random(26);
    Set<Integer> counts = new HashSet<>();
    for (int trial = 0; trial < 200; trial++) {
      double[] errorDeg = random.doubles(8, -10, 5).toArray();

      Proposal proposal = propose(specification, ask, errorDeg);

      assertThat(proposal.sets())
          .as(Arrays.toString(errorDeg))
          .hasSize(mostPairs(errorDeg, new boolean[errorDeg.length]));
      assertThat(proposal.upperBound()).isEqualTo(proposal.sets().size());
      assertThat(proposal.proven()).isTrue();
      for (List<Standing> pair : proposal.sets()) {
        assertThat(Math.abs(pair.get(0).errorDeg().get(0))).isLessThanOrEqualTo(3);
        assertThat(Math.abs(pair.get(1).errorDeg().get(0) + 4)).isLessThanOrEqualTo(3);
      }
      counts.add(proposal.sets().size());
    }
    assertThat(counts).contains(0, 1, 2, 3);
  }

  private static int mostPairs(double[] errorDeg, boolean[] used) {
    int most = 0;
    for (int a = 0; a < errorDeg.length; a++) {
      for (int b = 0; b < errorDeg.length; b++) {
        boolean pair = a != b && Math.abs(errorDeg[a]) <= 3 && Math.abs(errorDeg[b] + 4) <= 3;
        if (pair && !used[a] && !used[b]) {
          used[a] = true;
          used[b] = true;
          most = Math.max(most, 1 + mostPairs(errorDeg, used));
          used[a] = false;
          used[b] = false;
        }
      }
    }
    return most;
  }

  /** Of two wanted sets the oldest four that will do: A0 and A1 go to a, A3 and A4 to b. */
  @Test
  void againstANominalTargetStaggeredSetsMayBeOfTheOldest() {
    Specification specification =
        PoolSamples.specification(Basis.NOMINAL, Turns.ABSOLUTE, 0, 1, HERTZ);
    Ask ask =
        new Ask(
            Rule.OLDEST_FIRST,
            2,
            100,
            false,
            List.of(new SetPosition(0, 0, "a", 0, 0), new SetPosition(0, 1, "b", -40, 0)));

    Proposal proposal = propose(specification, ask, 0.9, 0.8, 99, -40.9, -40.8, 0, -40);

    assertThat(proposal.upperBound()).isEqualTo(3);
    assertThat(serials(proposal).stream().flatMap(List::stream))
        .containsExactlyInAnyOrder("A0", "A1", "A3", "A4");
  }

  /** With a master ±3° only members within 3° of one another could all be the master. */
  @Test
  void anyMemberCouldBeTheMaster() {
    Specification specification =
        PoolSamples.specification(Basis.MASTER, Turns.ABSOLUTE, 0, 3, HERTZ);

    assertThat(check(specification, false, 0, 2, 3).inside()).isTrue();
    assertThat(check(specification, false, 0, 2, 3.1).inside()).isFalse();
    Standings standings =
        PoolSamples.standings(specification, List.of(List.of(0.0), List.of(2.0), List.of(3.0)));
    Pool pool = new Pool(specification, standings, PoolSamples.ask(Rule.MOST_SETS, null, false, 3));
    assertThat(pool.middle(standings.members())).isEqualTo("A1");
  }

  /** Positions ask for 0°, −10° and +10°; two threes lie so, and 55°, 200° and 300° with none. */
  @Test
  void staggeredPositionsTakeWhoLiesThere() {
    Specification specification = oneFrequency(1);
    Ask ask =
        new Ask(
            Rule.MOST_SETS,
            null,
            100,
            false,
            List.of(
                new SetPosition(0, 0, "a", 0, 0),
                new SetPosition(0, 1, "b", -10, 0),
                new SetPosition(0, 2, "c", 10, 0)));

    Proposal proposal =
        propose(specification, ask, 55, 0.1, 10.1, 100, -9.8, 200, 110.2, 89.9, 300);

    assertThat(serials(proposal))
        .containsExactlyInAnyOrder(List.of("A1", "A4", "A2"), List.of("A3", "A7", "A6"));
    assertThat(proposal.upperBound()).isEqualTo(3);
    assertThat(proposal.proven()).isFalse();
  }

  private static Specification oneFrequency(double toleranceDeg) {
    return PoolSamples.specification(Basis.SET, Turns.ABSOLUTE, 0, toleranceDeg, HERTZ);
  }

  private static SetCheck check(Specification specification, boolean cuts, double... errorDeg) {
    Standings standings = PoolSamples.standings(specification, rows(errorDeg));
    Ask ask = PoolSamples.ask(Rule.MOST_SETS, null, cuts, errorDeg.length);
    return new Pool(specification, standings, ask).check(standings.members(), ask.positions());
  }

  private static Proposal propose(Specification specification, Ask ask, double... errorDeg) {
    return propose(specification, ask, rows(errorDeg));
  }

  private static Proposal propose(
      Specification specification, Ask ask, List<List<Double>> errorDeg) {
    Standings standings = PoolSamples.standings(specification, errorDeg);
    return Proposal.of(new Pool(specification, standings, ask), ask, standings.members());
  }

  private static List<List<Double>> rows(double... errorDeg) {
    List<List<Double>> rows = new ArrayList<>();
    for (double each : errorDeg) {
      rows.add(List.of(each));
    }
    return rows;
  }

  private static List<List<String>> serials(Proposal proposal) {
    return proposal.sets().stream()
        .map(set -> set.stream().map(Standing::assembly).map(a -> a.serial()).toList())
        .toList();
  }
}
