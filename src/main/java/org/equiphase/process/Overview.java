package org.equiphase.process;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.process.ControlChart.Point;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** The charts of every cable type and bench, those that ask for a look first. */
@Component
class Overview {

  private static final int POINTS = 100;

  /** A signal older than so many points calls for nothing any more. */
  private static final int RECENT = 25;

  private final ControlCharts charts;
  private final Catalog catalog;

  Overview(ControlCharts charts, Catalog catalog) {
    this.charts = charts;
    this.catalog = catalog;
  }

  /**
   * One chart, small.
   *
   * @param about cable type or bench
   * @param latest the last point that asks for a look, among the newest; null for none
   * @param line its values on a field 240 wide and 60 high
   * @param latestX and latestY: where the latest signal stands there
   */
  public record Card(
      ChartFilter filter,
      ControlChart chart,
      String about,
      @Nullable Point latest,
      String line,
      double centerY,
      double lowerY,
      double upperY,
      double latestX,
      double latestY) {

    Instant lastAt() {
      return chart.points().get(chart.points().size() - 1).value().at();
    }

    public Point last() {
      return chart.points().get(chart.points().size() - 1);
    }
  }

  List<Card> cards() {
    List<Card> cards = new ArrayList<>();
    for (CableType cableType : catalog.cableTypes()) {
      for (Characteristic what : Characteristic.charted()) {
        if (what != Characteristic.DRIFT) {
          add(cards, what, cableType.id(), null, cableType.name());
        }
      }
    }
    for (Bench bench : catalog.benches()) {
      add(cards, Characteristic.DRIFT, null, bench.id(), bench.name());
    }
    cards.sort(
        Comparator.comparing((Card c) -> c.latest == null ? Instant.MIN : c.latest.value().at())
            .thenComparing(Card::lastAt)
            .reversed());
    return cards;
  }

  private void add(
      List<Card> cards,
      Characteristic what,
      @Nullable Long cableType,
      @Nullable Long bench,
      String about) {
    ChartFilter filter =
        new ChartFilter(
            what, cableType, bench, null, null, null, null, null, null, null, POINTS, null, null,
            null, null, null, null);
    ControlChart chart = charts.chart(filter);
    if (chart.points().isEmpty()) {
      return;
    }
    ChartFilter link =
        new ChartFilter(
            what,
            cableType,
            bench,
            null,
            null,
            null,
            Objects.requireNonNull(chart.selection()).series().id(),
            null,
            null,
            null,
            null,
            null,
            null,
            null,
            null,
            null,
            null);
    cards.add(card(link, chart, about));
  }

  private static Card card(ChartFilter filter, ControlChart chart, String about) {
    List<Point> points = chart.points();
    ControlChart.Limits limits = chart.limits();
    double least = points.stream().mapToDouble(p -> p.value().value()).min().orElse(0);
    double greatest = points.stream().mapToDouble(p -> p.value().value()).max().orElse(0);
    if (limits != null) {
      least = Math.min(least, limits.lower());
      greatest = Math.max(greatest, limits.upper());
    }
    double low = least;
    double span = greatest > least ? greatest - least : 1;
    StringBuilder line = new StringBuilder();
    for (Point point : points) {
      line.append(
          String.format(
              Locale.ROOT,
              "%.1f,%.1f ",
              x(point, points.size()),
              y(point.value().value(), low, span)));
    }
    Point latest =
        points.stream()
            .skip(Math.max(0, points.size() - RECENT))
            .filter(Point::marked)
            .reduce((first, second) -> second)
            .orElse(null);
    return new Card(
        filter,
        chart,
        about,
        latest,
        line.toString().strip(),
        limits == null ? -9 : y(limits.center(), low, span),
        limits == null ? -9 : y(limits.lower(), low, span),
        limits == null ? -9 : y(limits.upper(), low, span),
        latest == null ? -9 : x(latest, points.size()),
        latest == null ? -9 : y(latest.value().value(), low, span));
  }

  private static double x(Point point, int count) {
    return count == 1 ? 120 : 5 + (point.number() - 1) * 230.0 / (count - 1);
  }

  private static double y(double value, double least, double span) {
    return 56 - 52 * (value - least) / span;
  }
}
