package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.LongRange;
import org.assertj.core.data.Offset;

/** What holds for every verdict and every budget. */
class MetrologyPropertyTest {

  private static final Offset<Double> ROUNDING = within(1e-12);

  @Property(tries = 500, seed = "1")
  void verdictsAreSymmetricAndShiftWithTheirLimits(
      @ForAll @DoubleRange(min = -20, max = 20) double value,
      @ForAll @DoubleRange(min = 0, max = 10) double u,
      @ForAll @DoubleRange(min = 0, max = 10) double tolerance,
      @ForAll @DoubleRange(min = 0, max = 2) double guardFactor) {
    Conformity verdict = Conformity.of(value, u, -tolerance, tolerance, guardFactor);
    assertThat(verdict.probability()).isBetween(0.0, 1.0);
    assertThat(verdict.probability() + Normal.outside(value, u, -tolerance, tolerance))
        .isCloseTo(1, ROUNDING);
    Conformity mirrored = Conformity.of(-value, u, -tolerance, tolerance, guardFactor);
    assertThat(mirrored.probability()).isCloseTo(verdict.probability(), ROUNDING);
    assertThat(mirrored.acceptedGuarded()).isEqualTo(verdict.acceptedGuarded());
    assertThat(verdict.acceptedGuarded() && !verdict.acceptedSimple()).isFalse();
    // Accepted with the full guard band of 2u: each side's risk is at most 2.275 %.
    if (guardFactor >= 1 && verdict.acceptedGuarded()) {
      assertThat(verdict.probability()).isGreaterThan(1 - 2 * 0.02276);
    }
  }

  @Property(tries = 500, seed = "2")
  void widerLimitsAreLikelierToHold(
      @ForAll @DoubleRange(min = -20, max = 20) double value,
      @ForAll @DoubleRange(min = 0.01, max = 10) double u,
      @ForAll @DoubleRange(min = -10, max = 10) double lower,
      @ForAll @DoubleRange(min = 0, max = 10) double width,
      @ForAll @DoubleRange(min = 0, max = 5) double more) {
    double narrow = Normal.inside(value, u, lower, lower + width);
    assertThat(Normal.inside(value, u, lower, lower + width + more)).isGreaterThanOrEqualTo(narrow);
    assertThat(Normal.inside(value, u, lower - more, lower + width))
        .isGreaterThanOrEqualTo(narrow - 1e-15);
  }

  @Property(tries = 200, seed = "3")
  void jointIsBetweenProductOfNothingAndTheLeast(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed) {
    Random random = new Random(seed);
    int n = 1 + random.nextInt(5);
    double[] mean = random.doubles(n, -2, 2).toArray();
    double[] slope = random.doubles(n, -2, 2).toArray();
    double[] independent = random.doubles(n, 0, 1).toArray();
    double[] lower = random.doubles(n, -3, 0).toArray();
    double[] upper = random.doubles(n, 0, 3).toArray();
    double joint = Conformity.jointProbability(mean, 0.7, slope, independent, lower, upper);
    double least = 1;
    double fails = 0;
    for (int k = 0; k < n; k++) {
      double one =
          Normal.inside(mean[k], Math.hypot(independent[k], 0.7 * slope[k]), lower[k], upper[k]);
      least = Math.min(least, one);
      fails += 1 - one;
    }
    assertThat(joint).isBetween(Math.max(0, 1 - fails) - 1e-9, least + 1e-9);
  }

  @Property(tries = 200, seed = "4")
  void budgetsScaleAndNeverShrinkByALine(
      @ForAll @LongRange(min = 0, max = 1_000_000) long seed,
      @ForAll @DoubleRange(min = 0.01, max = 1000) double factor) {
    List<Contribution> lines = draw(new Random(seed));
    UncertaintyBudget budget = new UncertaintyBudget(lines);
    UncertaintyBudget scaled =
        new UncertaintyBudget(
            lines.stream()
                .map(
                    c ->
                        new Contribution(
                            c.name(),
                            c.value() * factor,
                            c.distribution(),
                            c.sensitivity(),
                            c.degreesOfFreedom(),
                            c.sharing()))
                .toList());
    double u = budget.standardUncertainty();
    assertThat(scaled.standardUncertainty()).isCloseTo(factor * u, within(1e-12 * factor * u));
    double degrees = budget.effectiveDegreesOfFreedom();
    assertThat(scaled.effectiveDegreesOfFreedom()).isCloseTo(degrees, within(1e-9 * degrees));
    double least = lines.stream().mapToDouble(Contribution::degreesOfFreedom).min().orElseThrow();
    double sum = lines.stream().mapToDouble(Contribution::degreesOfFreedom).sum();
    assertThat(degrees).isBetween(least * (1 - 1e-9), sum * (1 + 1e-9));
    assertThat(new UncertaintyBudget(lines.subList(1, lines.size())).standardUncertainty())
        .isLessThanOrEqualTo(u);
    assertThat(budget.ofDifference().standardUncertainty())
        .isCloseTo(Math.sqrt(2) * budget.independentStandardUncertainty(), within(1e-12 * (1 + u)));
  }

  private static List<Contribution> draw(Random random) {
    List<Contribution> lines = new ArrayList<>();
    int count = 1 + random.nextInt(6);
    for (int i = 0; i < count; i++) {
      lines.add(
          new Contribution(
              "line " + i,
              0.01 + random.nextDouble(),
              pick(random, Distribution.values()),
              0.1 + random.nextDouble(),
              1 + random.nextInt(50),
              pick(random, Sharing.values())));
    }
    return lines;
  }

  private static <T> T pick(Random random, T[] choices) {
    return choices[random.nextInt(choices.length)];
  }
}
