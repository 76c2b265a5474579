package org.equiphase.process;

import java.util.List;
import org.equiphase.process.ControlChart.Point;
import org.equiphase.sheet.Column;
import org.equiphase.sheet.Table;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** The data behind each page as a table, for CSV and workbooks. */
final class ProcessTables {

  private ProcessTables() {}

  static Table<Point> of(ControlChart chart, Names names) {
    String unit = chart.characteristic().unit();
    ControlChart.Limits limits = chart.limits();
    return new Table<>(
        List.of(
            Column.number("number", head("number"), 15, Point::number),
            Column.time("at", head("at"), 35, p -> p.value().at()),
            Column.text("serial", head("serial"), 30, p -> p.value().serial()),
            Column.number("frequency_hz", head("frequencyHz"), 28, p -> frequency(p.value())),
            Column.number(
                "value_" + unit, Sentence.of("process.in." + unit), 25, p -> p.value().value()),
            Column.number(
                "lower_limit_" + unit, head("lowerLimit"), 25, p -> p.value().lowerLimit()),
            Column.number(
                "upper_limit_" + unit, head("upperLimit"), 25, p -> p.value().upperLimit()),
            Column.number("moving_range_" + unit, head("movingRange"), 25, Point::movingRange),
            Column.number(
                "center_" + unit, head("center"), 25, p -> limits == null ? null : limits.center()),
            Column.number(
                "lower_control_limit_" + unit,
                head("lowerControl"),
                25,
                p -> limits == null ? null : limits.lower()),
            Column.number(
                "upper_control_limit_" + unit,
                head("upperControl"),
                25,
                p -> limits == null ? null : limits.upper()),
            Column.text("patterns", head("patterns"), 60, ProcessTables::patterns),
            Column.text(
                "cable_type", head("cableType"), 50, p -> names.cableType(p.value().cableTypeId())),
            Column.text("bench", head("bench"), 35, p -> names.bench(p.value().benchId())),
            Column.text("person", head("person"), 30, p -> p.value().person()),
            Column.text("lot", head("lot"), 30, p -> p.value().lot()),
            Column.text("order", head("order"), 30, p -> p.value().orderNumber()),
            Column.number("reading", head("reading"), 20, p -> p.value().readingId())),
        chart.points());
  }

  private static @Nullable Double frequency(ProcessValue value) {
    return value.series().frequencyHz() == 0 ? null : (Double) value.series().frequencyHz();
  }

  private static Sentence patterns(Point point) {
    return point.words().stream()
        .reduce((a, b) -> Sentence.of("process.and", a, b))
        .orElseGet(() -> Sentence.said(""));
  }

  static Table<Yield.Row> of(Yield yield, Dimension by, Names names) {
    return new Table<>(
        List.of(
            Column.text(
                "group", Sentence.of("process.by." + by.name()), 50, r -> names.of(by, r.member())),
            Column.number("first_pass", head("firstPass"), 25, r -> r.share().successes()),
            Column.number("decided", head("decided"), 25, r -> r.share().count()),
            Column.number("share", head("share"), 25, r -> r.share().share()),
            Column.number("lower_95", head("lower95"), 25, r -> r.share().lower()),
            Column.number("upper_95", head("upper95"), 25, r -> r.share().upper())),
        yield.rows());
  }

  static Table<Pareto.Bar> of(Pareto pareto) {
    return new Table<>(
        List.of(
            Column.text(
                "cause", head("cause"), 60, b -> Sentence.of("process.cause." + b.cause().name())),
            Column.number("count", head("count"), 20, Pareto.Bar::count),
            Column.number("share", head("share"), 25, Pareto.Bar::share),
            Column.number("cumulative", head("cumulative"), 25, Pareto.Bar::cumulative)),
        pareto.bars());
  }

  static Table<LotVelocities.Row> of(LotVelocities lots) {
    return new Table<>(
        List.of(
            Column.text("lot", head("lot"), 40, LotVelocities.Row::lot),
            Column.time("at", head("at"), 35, LotVelocities.Row::at),
            Column.number(
                "velocity_factor", head("velocityFactor"), 30, LotVelocities.Row::velocityFactor),
            Column.number(
                "standard_uncertainty",
                head("standardUncertainty"),
                30,
                LotVelocities.Row::standardUncertainty),
            Column.number("cuts", head("cuts"), 20, LotVelocities.Row::cuts),
            Column.number("catalog_low", head("catalogLow"), 30, r -> lots.low()),
            Column.number("catalog_high", head("catalogHigh"), 30, r -> lots.high())),
        lots.rows());
  }

  private static Sentence head(String name) {
    return Sentence.of("process.head." + name);
  }
}
