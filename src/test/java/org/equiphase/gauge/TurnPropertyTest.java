package org.equiphase.gauge;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.function.ToIntFunction;
import java.util.stream.IntStream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What holds for the order of every study, and whether it is by chance. */
class TurnPropertyTest {

  private static Study study(int parts, int appraisers, int trials, long seed) {
    return new Study(
        1,
        0,
        "s",
        1,
        1e9,
        1,
        trials,
        seed,
        IntStream.range(0, parts).mapToObj(i -> "P" + i).toList(),
        IntStream.range(0, appraisers).mapToObj(i -> "A" + i).toList(),
        "qa",
        Instant.EPOCH,
        Study.State.RUNNING,
        "");
  }

  @Property(tries = 500, seed = "1")
  void everyPartOncePerTrialAndNoneTwiceRunning(
      @ForAll @IntRange(min = 2, max = 16) int parts,
      @ForAll @IntRange(min = 2, max = 4) int appraisers,
      @ForAll @IntRange(min = 2, max = 5) int trials,
      @ForAll long seed) {
    Study study = study(parts, appraisers, trials, seed);
    for (int a = 0; a < appraisers; a++) {
      List<Turn> turns = Turn.of(study, a);
      assertThat(new HashSet<>(turns)).hasSize(parts * trials).hasSameSizeAs(turns);
      assertThat(turns).isEqualTo(Turn.of(study, a));
      for (int i = 0; i < turns.size(); i++) {
        assertThat(turns.get(i).appraiser()).isEqualTo(a);
        assertThat(turns.get(i).trial()).isEqualTo(i / parts);
        assertThat(i > 0 && turns.get(i).part() == turns.get(i - 1).part()).isFalse();
      }
    }
  }

  /**
   * Pearson's chi-squared test at 1 in 10,000 over neighbouring seeds: which part an appraiser
   * begins with, is evenly spread and independent of the one before.
   */
  @ParameterizedTest
  @ValueSource(ints = {2, 4, 5, 8, 16})
  void theOrderIsByChance(int parts) {
    evenlySpread(parts, parts, study -> Turn.of(study, 0).get(0).part());
    evenlySpread(
        parts,
        parts * parts,
        study -> parts * Turn.of(study, 0).get(0).part() + Turn.of(study, 1).get(0).part());
    if (parts > 2) {
      // The second trial may begin with any part but that which ended the first.
      evenlySpread(
          parts,
          parts * (parts - 1),
          study -> {
            List<Turn> turns = Turn.of(study, 0);
            int step = turns.get(parts).part() - turns.get(parts - 1).part();
            return (parts - 1) * turns.get(0).part() + Math.floorMod(step, parts) - 1;
          });
    }
  }

  private static void evenlySpread(int parts, int cells, ToIntFunction<Study> cell) {
    int expected = 30;
    int[] found = new int[cells];
    for (int seed = 0; seed < expected * cells; seed++) {
      found[cell.applyAsInt(study(parts, 2, 2, seed))]++;
    }
    double chiSquared =
        IntStream.of(found).mapToDouble(n -> Math.pow(n - expected, 2) / expected).sum();
    double byChance = ChiSquaredDistribution.of(cells - 1).survivalProbability(chiSquared);
    assertThat(byChance).isBetween(1e-4, 1 - 1e-4);
  }
}
