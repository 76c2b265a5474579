package org.equiphase.process;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.equiphase.metrology.IndividualsChart;
import org.equiphase.metrology.RunSignal;
import org.equiphase.metrology.SmallShiftChart;
import org.equiphase.process.ChartFilter.BaselineKind;
import org.equiphase.process.ChartFilter.SmallShift;
import org.equiphase.process.ControlChart.Baseline;
import org.equiphase.process.ControlChart.Limits;
import org.equiphase.process.ControlChart.Point;
import org.equiphase.process.ControlChart.SmallShifts;
import org.equiphase.web.NotFoundException;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Control charts, drawn from what was measured and the limits that QA keeps. */
@Service
@Transactional(readOnly = true)
public class ControlCharts {

  /** λ of the EWMA, within the usual 0.2 to 0.3 (NIST/SEMATECH e-Handbook, 6.3.2.4). */
  private static final double EWMA_WEIGHT = 0.2;

  /** CUSUM's k and h in standard deviations, for a shift of one (e-Handbook, 6.3.2.3). */
  private static final double CUSUM_SLACK = 0.5;

  private static final double CUSUM_DECISION = 5;

  private final ValueTables values;
  private final LimitTables limits;

  ControlCharts(ValueTables values, LimitTables limits) {
    this.values = values;
    this.limits = limits;
  }

  /** The series of a characteristic, to choose from. */
  public List<Series> series(Characteristic characteristic) {
    return values.series(characteristic);
  }

  /** The chart of what a filter lets through. */
  public ControlChart chart(ChartFilter filter) {
    filter.checked();
    Window window = window(filter);
    Optional<Selection> selected = selection(filter, window);
    if (selected.isEmpty()) {
      return new ControlChart(filter.what(), null, List.of(), false, null, null, null, null);
    }
    Selection selection = selected.get();
    List<ProcessValue> newest = values.newest(selection, window, filter.pointCount() + 1);
    boolean older = newest.size() > filter.pointCount();
    List<ProcessValue> shown = oldestFirst(older ? newest.subList(0, filter.pointCount()) : newest);
    KeptLimits last = limits.last(selection.key()).orElse(null);
    Baseline baseline = baseline(filter, selection, shown, last);
    double[] numbers = shown.stream().mapToDouble(ProcessValue::value).toArray();
    IndividualsChart chart =
        baseline == null ? null : IndividualsChart.of(numbers, baseline.center(), baseline.sigma());
    return new ControlChart(
        filter.what(),
        selection,
        points(shown, chart),
        older,
        baseline,
        chart == null
            ? null
            : new Limits(
                chart.center(),
                chart.sigma(),
                chart.lowerLimit(),
                chart.upperLimit(),
                chart.movingRangeUpperLimit()),
        baseline == null ? null : smallShifts(filter.small(), numbers, baseline),
        last);
  }

  /** The newest values of what a filter lets through, the newest first. */
  List<ProcessValue> newest(ChartFilter filter, int most) {
    Window window = window(filter.checkedDates());
    return selection(filter, window)
        .map(selection -> values.newest(selection, window, most))
        .orElse(List.of());
  }

  /** How often each cause stands among the newest values of what a filter lets through. */
  Map<Cause, Integer> causes(ChartFilter filter, int most) {
    Window window = window(filter.checkedDates());
    return selection(filter, window)
        .map(selection -> values.causes(selection, window, most))
        .orElse(Map.of());
  }

  static List<ProcessValue> oldestFirst(List<ProcessValue> newestFirst) {
    List<ProcessValue> values = new ArrayList<>(newestFirst);
    Collections.reverse(values);
    return values;
  }

  private Window window(ChartFilter filter) {
    ProcessValue before =
        filter.before() == null ? null : values.value(filter.before()).orElse(null);
    return Window.days(filter.from(), filter.to(), before);
  }

  /** With no series asked for, the one measured last; drift is of one bench. */
  Optional<Selection> selection(ChartFilter filter, Window window) {
    List<Series> all = values.series(filter.what());
    Long wanted = filter.series();
    if (wanted != null && all.stream().noneMatch(s -> s.id() == wanted)) {
      throw new NotFoundException("series", wanted);
    }
    Selection open = filter.selection();
    Optional<ProcessValue> newest =
        all.stream()
            .filter(s -> wanted == null || s.id() == wanted)
            .flatMap(s -> values.newest(open.in(s), window, 1).stream())
            .max(Comparator.comparing(ProcessValue::at).thenComparing(ProcessValue::id));
    Series series =
        newest
            .map(ProcessValue::series)
            .or(() -> all.stream().filter(s -> wanted == null || s.id() == wanted).findFirst())
            .orElse(null);
    if (series == null) {
      return Optional.empty();
    }
    Selection chosen = open.in(series);
    return Optional.of(
        filter.what() == Characteristic.DRIFT && filter.bench() == null
            ? chosen.atBench(newest.map(ProcessValue::benchId).orElse(null))
            : chosen);
  }

  private @Nullable Baseline baseline(
      ChartFilter filter,
      Selection selection,
      List<ProcessValue> shown,
      @Nullable KeptLimits last) {
    BaselineKind kind = filter.baseline();
    if (last != null && !last.withdrawn() && (kind == null || kind == BaselineKind.KEPT)) {
      return new Baseline(
          BaselineKind.KEPT,
          last.center(),
          last.sigma(),
          last.baselineCount(),
          last.baselineFrom(),
          last.baselineTo());
    }
    if (kind != BaselineKind.DATES) {
      return Baseline.of(
          BaselineKind.FIRST, shown.subList(0, Math.min(filter.baselineSize(), shown.size())));
    }
    return Baseline.of(
        BaselineKind.DATES,
        oldestFirst(
            values.newest(
                selection,
                Window.days(filter.baselineFrom(), filter.baselineTo(), null),
                ChartFilter.MOST_POINTS)));
  }

  private static List<Point> points(List<ProcessValue> shown, @Nullable IndividualsChart chart) {
    Map<Integer, List<RunSignal>> signals =
        chart == null
            ? Map.of()
            : chart.signals().stream().collect(Collectors.groupingBy(RunSignal::index));
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < shown.size(); i++) {
      points.add(
          new Point(
              i + 1,
              shown.get(i),
              i == 0 ? null : Math.abs(shown.get(i).value() - shown.get(i - 1).value()),
              chart != null && chart.movingRangesBeyond().contains(i),
              signals.getOrDefault(i, List.of())));
    }
    return points;
  }

  private static @Nullable SmallShifts smallShifts(
      @Nullable SmallShift kind, double[] numbers, Baseline baseline) {
    if (kind == null) {
      return null;
    }
    if (kind == SmallShift.EWMA) {
      SmallShiftChart.Ewma ewma =
          SmallShiftChart.ewma(numbers, baseline.center(), baseline.sigma(), EWMA_WEIGHT);
      return new SmallShifts(
          kind, ewma.averages(), List.of(), ewma.lowerLimit(), ewma.upperLimit(), ewma.beyond());
    }
    double decision = CUSUM_DECISION * baseline.sigma();
    SmallShiftChart.Cusum cusum =
        SmallShiftChart.cusum(numbers, baseline.center(), CUSUM_SLACK * baseline.sigma(), decision);
    return new SmallShifts(kind, cusum.high(), cusum.low(), null, decision, cusum.beyond());
  }
}
