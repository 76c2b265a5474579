package org.equiphase.process;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.metrology.IndividualsChart;
import org.equiphase.metrology.RunSignal;
import org.equiphase.process.ChartFilter.BaselineKind;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A control chart of a selection's newest values.
 *
 * @param selection null where nothing of the characteristic is stored
 * @param points the oldest first
 * @param older whether there are values before these
 * @param baseline null where fewer than two values give none
 * @param limits null likewise
 * @param last what was decided last about this selection's limits; null for nothing
 */
public record ControlChart(
    Characteristic characteristic,
    @Nullable Selection selection,
    List<Point> points,
    boolean older,
    @Nullable Baseline baseline,
    @Nullable Limits limits,
    @Nullable SmallShifts smallShifts,
    @Nullable KeptLimits last) {

  public ControlChart {
    points = List.copyOf(points);
  }

  /**
   * What the limits come from.
   *
   * @param count number of values; {@code from} the first and {@code to} the last of them
   */
  public record Baseline(
      BaselineKind kind, double center, double sigma, int count, Instant from, Instant to) {

    /** What values in the order of time give; null where they are too few. */
    static @Nullable Baseline of(BaselineKind kind, List<ProcessValue> of) {
      if (of.size() < 2) {
        return null;
      }
      IndividualsChart chart =
          IndividualsChart.of(of.stream().mapToDouble(ProcessValue::value).toArray());
      return new Baseline(
          kind,
          chart.center(),
          chart.sigma(),
          of.size(),
          of.get(0).at(),
          of.get(of.size() - 1).at());
    }
  }

  /** In the unit of the characteristic. */
  public record Limits(
      double center, double sigma, double lower, double upper, double movingRangeUpper) {}

  /**
   * A value on the chart.
   *
   * @param number from 1
   * @param movingRange change from the value before; null for the first
   * @param signals patterns that it completes
   */
  public record Point(
      int number,
      ProcessValue value,
      @Nullable Double movingRange,
      boolean movingRangeBeyond,
      List<RunSignal> signals) {

    public Point {
      signals = List.copyOf(signals);
    }

    /** Whether it asks for a look. */
    public boolean marked() {
      return movingRangeBeyond || !signals.isEmpty();
    }

    /** The patterns in words; empty where there are none. */
    public List<Sentence> words() {
      List<Sentence> words = new ArrayList<>(signals.stream().map(ControlChart::words).toList());
      if (movingRangeBeyond) {
        words.add(Sentence.of("process.rule.range"));
      }
      return words;
    }
  }

  /**
   * A chart that remembers, of the same points.
   *
   * @param high the averages; for sums, the upper one
   * @param low the lower sums; empty for averages
   * @param lowerLimit null for sums
   * @param beyond indices of points, from 0
   */
  public record SmallShifts(
      ChartFilter.SmallShift kind,
      List<Double> high,
      List<Double> low,
      @Nullable Double lowerLimit,
      double upperLimit,
      List<Integer> beyond) {}

  static Sentence words(RunSignal signal) {
    return Sentence.of(
        "process.rule." + signal.rule().name(),
        Sentence.of(signal.above() ? "process.above" : "process.below"));
  }

  /** Whether nothing on the chart asks for a look. */
  public boolean inControl() {
    return points.stream().noneMatch(Point::marked);
  }

  /** How many points ask for a look. */
  public long marked() {
    return points.stream().filter(Point::marked).count();
  }
}
