package org.equiphase.calculator;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.calculator.ProcessCalculationApi.ChartRequest;
import org.equiphase.metrology.IndividualsChart;
import org.equiphase.metrology.RunSignal;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Whether a process is in control. */
@Component
@Order(12)
class ChartCalculation implements Calculation {

  private final ProcessCalculationApi processes;

  ChartCalculation(ProcessCalculationApi processes) {
    this.processes = processes;
  }

  @Override
  public String name() {
    return "chart";
  }

  @Override
  public String title() {
    return "metrology.chart.title";
  }

  @Override
  public String about() {
    return "metrology.chart.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("baselineCount", "metrology.chart.baseline", null, "10").orEmpty(),
        Input.area(
            "values",
            "metrology.chart.values",
            "0.12\n-0.20\n0.05\n0.31\n-0.08\n-0.15\n0.22\n0.02\n-0.11\n0.09\n0.15\n0.98"));
  }

  /** A value, its change from the one before, and the patterns that it completes. */
  record Point(
      double value, @Nullable Double range, boolean rangeBeyond, List<RunSignal> signals) {}

  record Result(IndividualsChart answer, int baseline, List<Point> points) {}

  @Override
  public Result calculate(Typed typed) {
    Integer baseline = typed.optionalWhole("baselineCount");
    double[] values = typed.column("values");
    typed.done();
    IndividualsChart chart = processes.controlChart(new ChartRequest(values, baseline));
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < values.length; i++) {
      int index = i;
      points.add(
          new Point(
              values[i],
              i == 0 ? null : chart.movingRanges().get(i - 1),
              chart.movingRangesBeyond().contains(i),
              chart.signals().stream().filter(s -> s.index() == index).toList()));
    }
    return new Result(chart, baseline == null ? values.length : baseline, points);
  }
}
