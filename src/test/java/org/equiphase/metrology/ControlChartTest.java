package org.equiphase.metrology;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.DoubleStream;
import org.equiphase.rf.InvalidQuantityException;
import org.junit.jupiter.api.Test;

/** Validation of control charts against the worked examples of the NIST/SEMATECH e-Handbook. */
class ControlChartTest {

  private static final double[] FLOWRATE = {
    49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1
  };

  /** e-Handbook, 6.3.2.2: individuals chart of ten flow rates. */
  @Test
  void individuals() {
    IndividualsChart chart = IndividualsChart.of(FLOWRATE);
    assertThat(chart.center()).isCloseTo(50.81, within(1e-9));
    assertThat(chart.averageMovingRange()).isCloseTo(1.8778, within(5e-5));
    assertThat(chart.upperLimit()).isCloseTo(55.8041, within(5e-5));
    assertThat(chart.lowerLimit()).isCloseTo(45.8159, within(5e-5));
    // D4 of the tables, 3.267, times the mean moving range.
    assertThat(chart.movingRangeUpperLimit()).isCloseTo(6.1347, within(5e-5));
    assertThat(chart.movingRanges()).hasSize(9).startsWith(49.6 - 47.6);
    assertThat(chart.signals()).isEmpty();
    assertThat(chart.movingRangesBeyond()).isEmpty();
  }

  @Test
  void laterValuesDontMoveTheLimits() {
    double[] more = DoubleStream.concat(DoubleStream.of(FLOWRATE), DoubleStream.of(57)).toArray();
    IndividualsChart chart = IndividualsChart.of(more, 10);
    assertThat(chart.upperLimit()).isEqualTo(IndividualsChart.of(FLOWRATE).upperLimit());
    assertThat(chart.signals())
        .containsExactly(new RunSignal(10, RunRule.ONE_BEYOND_3_SIGMA, true));
    assertThat(IndividualsChart.of(new double[] {1, 2, 1, 9}, 3).movingRangesBeyond())
        .containsExactly(3);
  }

  /** The rules as the Western Electric handbook words them, each at its edge. */
  @Test
  void runRules() {
    assertThat(rules(3.01)).containsExactly(new RunSignal(0, RunRule.ONE_BEYOND_3_SIGMA, true));
    assertThat(rules(3, -3)).isEmpty();
    assertThat(rules(-2.1, 0, -2.1))
        .containsExactly(new RunSignal(2, RunRule.TWO_OF_THREE_BEYOND_2_SIGMA, false));
    assertThat(rules(2.1, 0, 0, 2.1)).isEmpty();
    assertThat(rules(2.1, -2.1, 0)).isEmpty();
    assertThat(rules(1.1, 1.1, 0, 1.1, 1.1))
        .containsExactly(new RunSignal(4, RunRule.FOUR_OF_FIVE_BEYOND_1_SIGMA, true));
    assertThat(rules(1.1, 1.1, 1.1, -1.1)).isEmpty();
    assertThat(rules(.1, .1, .1, .1, .1, .1, .1)).isEmpty();
    assertThat(rules(.1, .1, .1, .1, .1, .1, .1, .1, -.1))
        .containsExactly(new RunSignal(7, RunRule.EIGHT_ON_ONE_SIDE, true));
    // A point that has come back completes nothing, though the points before it still count.
    assertThat(rules(2.1, 2.1, 0))
        .containsExactly(new RunSignal(1, RunRule.TWO_OF_THREE_BEYOND_2_SIGMA, true));
  }

  /** e-Handbook, 6.3.2.4: λ = 0.3, target 50, s = 2.0539; printed to two decimals. */
  @Test
  void movingAverages() {
    double[] values = {
      52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8,
      51.2, 52.6, 52.4, 53.6, 52.1
    };
    double[] printed = {
      50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52,
      50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99
    };
    SmallShiftChart.Ewma chart = SmallShiftChart.ewma(values, 50, 2.0539, 0.3);
    for (int i = 0; i < printed.length; i++) {
      assertThat(chart.averages().get(i)).as("average %d", i).isCloseTo(printed[i], within(0.0051));
    }
    // 47.4115 is printed for 47.41157.
    assertThat(chart.upperLimit()).isCloseTo(52.5884, within(1e-4));
    assertThat(chart.lowerLimit()).isCloseTo(47.4115, within(1e-4));
    assertThat(chart.beyond()).isEmpty();
    assertThat(SmallShiftChart.ewma(new double[] {60}, 50, 2.0539, 0.3).beyond())
        .containsExactly(0);
  }

  /**
   * e-Handbook, 6.3.2.3: target 325, k 0.3175, h 4.1959, first signal at the 14th mean, with sums
   * 3.01 and 4.94 at the 13th and 14th; the series itself from memory.
   */
  @Test
  void cumulativeSums() {
    double[] means = {
      324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
      324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350
    };
    SmallShiftChart.Cusum chart = SmallShiftChart.cusum(means, 325, 0.3175, 4.1959);
    assertThat(chart.high().get(12)).isCloseTo(3.01, within(0.005));
    assertThat(chart.high().get(13)).isCloseTo(4.94, within(0.005));
    assertThat(chart.beyond().get(0)).isEqualTo(13);
    double[] mirrored = DoubleStream.of(means).map(m -> 650 - m).toArray();
    SmallShiftChart.Cusum below = SmallShiftChart.cusum(mirrored, 325, 0.3175, 4.1959);
    assertThat(below.beyond()).isEqualTo(chart.beyond());
    assertThat(below.low().get(13)).isCloseTo(chart.high().get(13), within(1e-9));
  }

  @Test
  void refusesWhatCantBeCharted() {
    refused("values", () -> IndividualsChart.of(new double[] {1}));
    refused("values[1]", () -> IndividualsChart.of(new double[] {1, Double.NaN}));
    refused("baselineCount", () -> IndividualsChart.of(FLOWRATE, 1));
    refused("baselineCount", () -> IndividualsChart.of(FLOWRATE, 11));
    refused("weight", () -> SmallShiftChart.ewma(FLOWRATE, 50, 1, 0));
    refused("weight", () -> SmallShiftChart.ewma(FLOWRATE, 50, 1, 1.1));
    refused("decisionLimit", () -> SmallShiftChart.cusum(FLOWRATE, 50, 1, -1));
  }

  private static List<RunSignal> rules(double... sigmas) {
    return IndividualsChart.signals(sigmas, 0, 1);
  }

  private static void refused(String field, Runnable call) {
    assertThatExceptionOfType(InvalidQuantityException.class)
        .isThrownBy(call::run)
        .satisfies(e -> assertThat(e.field()).isEqualTo(field));
  }
}
