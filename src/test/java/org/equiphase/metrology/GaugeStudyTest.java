package org.equiphase.metrology;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.LongRange;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Validation of gauge studies against published ones, see {@link GaugeStudies}. */
class GaugeStudyTest {

  /** Printed in the manual from rounded intermediate values and constants of four digits. */
  @Test
  void manualByRange() {
    RangeGauge study = GaugeStudy.of(GaugeStudies.manual()).byRange();
    assertThat(study.averageRanges().get(0)).isCloseTo(0.184, within(5e-4));
    assertThat(study.averageRanges().get(1)).isCloseTo(0.513, within(5e-4));
    assertThat(study.averageRanges().get(2)).isCloseTo(0.328, within(5e-4));
    assertThat(study.averageRange()).isCloseTo(0.3417, within(5e-5));
    assertThat(study.appraiserSpread()).isCloseTo(0.4446, within(1e-4));
    assertThat(study.partRange()).isCloseTo(3.511, within(5e-4));
    GaugeVariation v = study.variation();
    assertThat(v.equipment()).isCloseTo(0.20188, within(5e-5));
    assertThat(v.appraiser()).isCloseTo(0.22963, within(1e-4));
    assertThat(v.interaction()).isZero();
    assertThat(v.gauge()).isCloseTo(0.30575, within(1e-4));
    assertThat(v.part()).isCloseTo(1.10456, within(2e-4));
    assertThat(v.total()).isCloseTo(1.14610, within(2e-4));
    assertThat(v.percentOfTotal(v.equipment())).isCloseTo(17.62, within(0.01));
    assertThat(v.percentOfTotal(v.appraiser())).isCloseTo(20.04, within(0.01));
    assertThat(v.percentOfTotal(v.gauge())).isCloseTo(26.68, within(0.01));
    assertThat(v.percentOfTotal(v.part())).isCloseTo(96.38, within(0.01));
    assertThat(v.distinctCategories()).hasValue(5);
    assertThat(study.rangeUpperLimit()).isCloseTo(0.880, within(5e-4));
    assertThat(study.rangesBeyond()).hasSize(1);
    RangeGauge.Cell beyond = study.rangesBeyond().get(0);
    assertThat(beyond.part()).isEqualTo(3);
    assertThat(beyond.appraiser()).isEqualTo(1);
    assertThat(beyond.range()).isCloseTo(1.02, within(1e-12));
  }

  @Test
  void manualByAnova() {
    AnovaGauge study = GaugeStudy.of(GaugeStudies.manual()).byAnova();
    AnovaGauge.Source appraisers = requireNonNull(study.appraisers());
    AnovaGauge.Source interaction = requireNonNull(study.interaction());
    assertThat(appraisers.sumOfSquares()).isCloseTo(3.1673, within(5e-5));
    assertThat(study.parts().sumOfSquares()).isCloseTo(88.3619, within(5e-5));
    assertThat(interaction.sumOfSquares()).isCloseTo(0.3590, within(5e-5));
    assertThat(study.equipment().sumOfSquares()).isCloseTo(2.7589, within(5e-5));
    assertThat(study.total().sumOfSquares()).isCloseTo(94.6471, within(5e-5));
    assertThat(appraisers.degreesOfFreedom()).isEqualTo(2);
    assertThat(study.parts().degreesOfFreedom()).isEqualTo(9);
    assertThat(interaction.degreesOfFreedom()).isEqualTo(18);
    assertThat(study.equipment().degreesOfFreedom()).isEqualTo(60);
    assertThat(study.total().degreesOfFreedom()).isEqualTo(89);
    assertThat(requireNonNull(interaction.f())).isCloseTo(0.434, within(5e-4));
    // p recomputed with other tools.
    assertThat(requireNonNull(interaction.p())).isCloseTo(0.9741, within(5e-5));
    assertThat(study.pooled()).isTrue();
    GaugeVariation v = study.variation();
    assertThat(v.equipment()).isCloseTo(0.199933, within(1e-6));
    assertThat(v.appraiser()).isCloseTo(0.226838, within(1e-6));
    assertThat(v.interaction()).isZero();
    assertThat(v.gauge()).isCloseTo(0.302373, within(2e-6));
    assertThat(v.part()).isCloseTo(1.042327, within(1e-6));
    assertThat(v.total()).isCloseTo(1.085, within(5e-4));
    assertThat(v.percentOfTotal(v.equipment())).isCloseTo(18.4, within(0.05));
    assertThat(v.percentOfTotal(v.appraiser())).isCloseTo(20.9, within(0.05));
    assertThat(v.percentOfTotal(v.gauge())).isCloseTo(27.9, within(0.05));
    assertThat(v.percentOfTotal(v.part())).isCloseTo(96.0, within(0.05));
    assertThat(v.distinctCategories()).hasValue(4);
  }

  /** Mean squares as published; components recomputed from them. Interaction is no chance here. */
  @Test
  void modulesByAnova() {
    AnovaGauge study = GaugeStudy.of(GaugeStudies.modules()).byAnova();
    AnovaGauge.Source interaction = requireNonNull(study.interaction());
    assertThat(study.parts().meanSquare()).isCloseTo(437.328395, within(5e-7));
    assertThat(requireNonNull(study.appraisers()).meanSquare()).isCloseTo(19.633333, within(5e-7));
    assertThat(interaction.meanSquare()).isCloseTo(2.695062, within(5e-7));
    assertThat(study.equipment().meanSquare()).isCloseTo(0.511111, within(5e-7));
    assertThat(requireNonNull(interaction.f())).isCloseTo(5.27, within(5e-3));
    assertThat(study.pooled()).isFalse();
    GaugeVariation v = study.variation();
    assertThat(v.part() * v.part()).isCloseTo(48.29259, within(5e-6));
    assertThat(v.appraiser() * v.appraiser()).isCloseTo(0.564609, within(5e-7));
    assertThat(v.interaction() * v.interaction()).isCloseTo(0.727984, within(5e-7));
    assertThat(v.equipment() * v.equipment()).isCloseTo(0.511111, within(5e-7));
    assertThat(v.gauge() * v.gauge()).isCloseTo(1.803704, within(5e-7));
    assertThat(v.percentOfTolerance(v.gauge(), 58 - 18)).isCloseTo(20.1453, within(5e-5));
  }

  /** Certified values of NIST StRD, SiRstv: one way, which one appraiser makes it. */
  @Test
  void certifiedOneWay() {
    AnovaGauge study = GaugeStudy.of(GaugeStudies.resistivity()).byAnova();
    assertThat(study.parts().sumOfSquares()).isCloseTo(5.11462616e-2, within(5e-12));
    assertThat(study.equipment().sumOfSquares()).isCloseTo(2.16636560e-1, within(5e-10));
    assertThat(requireNonNull(study.parts().f())).isCloseTo(1.18046237440255, within(1e-9));
    assertThat(study.appraisers()).isNull();
    assertThat(study.variation().appraiser()).isZero();
    assertThat(study.variation().interaction()).isZero();
  }

  /**
   * Tables of control-chart constants (ASTM E2587 and the gauge manual): d2, D4, and d2* for one
   * range, whose reciprocals are the manual's K2 and K3. The printed d2* are up to 1e-5 off.
   */
  @ParameterizedTest
  @CsvSource({
    "2, 1.128, 3.267, 1.41421, 0.7071",
    "3, 1.693, 2.575, 1.91155, 0.5231",
    "4, 2.059, 2.282, 2.23887, 0.4467",
    "5, 2.326, 2.114, 2.48124, 0.4030",
    "6, 2.534, 2.004, 2.67253, 0.3742",
    "7, 2.704, 1.924, 2.82981, 0.3534",
    "8, 2.847, 1.864, 2.96288, 0.3375",
    "9, 2.970, 1.816, 3.07794, 0.3249",
    "10, 3.078, 1.777, 3.17905, 0.3146"
  })
  void rangeConstants(int size, double d2, double d4, double d2Star, double k) {
    RangeConstants constants = RangeConstants.of(size);
    assertThat(constants.d2()).isCloseTo(d2, within(5.1e-4));
    assertThat(constants.upperLimitFactor()).isCloseTo(d4, within(1e-3));
    assertThat(constants.d2Star()).isCloseTo(d2Star, within(1.1e-5));
    assertThat(1 / constants.d2Star()).isCloseTo(k, within(6e-5));
  }

  /** Closed forms: d2(2) = 2/√π, d2(3) = 3/√π, and d2* of two is √2. */
  @Test
  void rangeConstantsInClosedForm() {
    assertThat(RangeConstants.of(2).d2()).isCloseTo(2 / Math.sqrt(Math.PI), within(1e-7));
    assertThat(RangeConstants.of(3).d2()).isCloseTo(3 / Math.sqrt(Math.PI), within(1e-7));
    assertThat(RangeConstants.of(2).d2Star()).isCloseTo(Math.sqrt(2), within(1e-7));
  }

  /** Both methods and the total find what went in: 400 parts, 3 people, 3 trials, seed 5. */
  @Test
  void findsTheSpreadPutIn() {
    Random random = new Random(5);
    double[] person = {-0.6, 0.1, 0.5};
    double[][][] readings = new double[400][3][3];
    for (double[][] part : readings) {
      double truth = 2 * random.nextGaussian();
      for (int o = 0; o < 3; o++) {
        for (int t = 0; t < 3; t++) {
          part[o][t] = truth + person[o] + 0.3 * random.nextGaussian();
        }
      }
    }
    GaugeVariation anova = GaugeStudy.of(readings).byAnova().variation();
    assertThat(anova.equipment()).isCloseTo(0.3, within(0.01));
    assertThat(anova.appraiser()).isCloseTo(Math.sqrt(0.31), within(0.05));
    assertThat(anova.part()).isCloseTo(2, within(0.22));
    GaugeVariation range = GaugeStudy.of(readings).byRange().variation();
    assertThat(range.equipment()).isCloseTo(0.3, within(0.01));
    assertThat(range.appraiser()).isCloseTo(1.1 / 1.91155, within(0.05));
  }

  @Property(tries = 50, seed = "1")
  void scaleAndShiftOfReadingsDontMatter(@ForAll @LongRange(min = 0, max = 100_000) long seed) {
    Random random = new Random(seed);
    int parts = 2 + random.nextInt(6);
    int appraisers = 1 + random.nextInt(4);
    int trials = 2 + random.nextInt(3);
    double[][][] readings = new double[parts][appraisers][trials];
    double[][][] moved = new double[parts][appraisers][trials];
    for (int p = 0; p < parts; p++) {
      for (int o = 0; o < appraisers; o++) {
        for (int t = 0; t < trials; t++) {
          readings[p][o][t] = random.nextGaussian() + p;
          moved[p][o][t] = -250 + 4 * readings[p][o][t];
        }
      }
    }
    same(GaugeStudy.of(readings).byAnova().variation(), GaugeStudy.of(moved).byAnova().variation());
    same(GaugeStudy.of(readings).byRange().variation(), GaugeStudy.of(moved).byRange().variation());
  }

  @Test
  void equalReadingsHaveNoVariation() {
    GaugeStudy study = GaugeStudy.of(new double[][][] {{{1, 1}, {1, 1}}, {{1, 1}, {1, 1}}});
    assertThat(study.byAnova().variation().total()).isZero();
    assertThat(study.byAnova().variation().distinctCategories()).isEmpty();
    assertThat(study.byRange().variation().percentOfTotal(0)).isZero();
  }

  @Test
  void refusesIncompleteStudies() {
    refused("readings", new double[][][] {{{1, 2}}});
    refused("readings[1]", new double[][][] {{{1, 2}, {1, 2}}, {{1, 2}}});
    refused("readings[1][0]", new double[][][] {{{1, 2}}, {{1, 2, 3}}});
    refused("readings[0][0]", new double[][][] {{{1}}, {{1}}});
    refused("readings[1][0][1]", new double[][][] {{{1, 2}}, {{1, Double.NaN}}});
  }

  private static void same(GaugeVariation one, GaugeVariation four) {
    assertThat(four.equipment()).isCloseTo(4 * one.equipment(), within(1e-9));
    assertThat(four.appraiser()).isCloseTo(4 * one.appraiser(), within(1e-6));
    assertThat(four.interaction()).isCloseTo(4 * one.interaction(), within(1e-6));
    assertThat(four.part()).isCloseTo(4 * one.part(), within(1e-6));
    assertThat(four.percentOfTotal(four.gauge()))
        .isCloseTo(one.percentOfTotal(one.gauge()), within(1e-5));
  }

  private static void refused(String field, double[][][] readings) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(() -> GaugeStudy.of(readings))
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
