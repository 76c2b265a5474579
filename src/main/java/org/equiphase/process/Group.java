package org.equiphase.process;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * One bench, person, lot, … among the values of a chart.
 *
 * @param member id or name
 * @param standardDeviation with divisor n − 1; null for a single value
 * @param line its values as the points of a polyline on a field 200 wide and 40 high, all groups to
 *     the same scale; {@code meanY} its mean there
 */
public record Group(
    Object member,
    int count,
    double mean,
    @Nullable Double standardDeviation,
    double least,
    double greatest,
    String line,
    double meanY) {

  private static final double WIDTH = 200;
  private static final double HEIGHT = 40;

  /** The groups of a chart's values, the largest first. */
  static List<Group> of(ControlChart chart, Dimension by) {
    Map<Object, List<Double>> values = new LinkedHashMap<>();
    for (ControlChart.Point point : chart.points()) {
      Object member = by.of(point.value());
      if (member != null) {
        values.computeIfAbsent(member, m -> new ArrayList<>()).add(point.value().value());
      }
    }
    double least = least(chart.points().stream().map(p -> p.value().value()).toList());
    double greatest = greatest(chart.points().stream().map(p -> p.value().value()).toList());
    return values.entrySet().stream()
        .map(e -> of(e.getKey(), e.getValue(), least, greatest))
        .sorted((a, b) -> b.count - a.count)
        .toList();
  }

  private static Group of(Object member, List<Double> values, double least, double greatest) {
    int n = values.size();
    double mean = values.stream().mapToDouble(v -> v).average().orElseThrow();
    double squares = values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum();
    StringBuilder line = new StringBuilder();
    for (int i = 0; i < n; i++) {
      double x = n == 1 ? WIDTH / 2 : i * WIDTH / (n - 1);
      line.append(String.format(Locale.ROOT, "%.1f,%.1f ", x, y(values.get(i), least, greatest)));
    }
    return new Group(
        member,
        n,
        mean,
        n < 2 ? null : (Double) Math.sqrt(squares / (n - 1)),
        least(values),
        greatest(values),
        line.toString().strip(),
        y(mean, least, greatest));
  }

  private static double y(double value, double least, double greatest) {
    return greatest > least
        ? HEIGHT - 2 - (HEIGHT - 4) * (value - least) / (greatest - least)
        : HEIGHT / 2;
  }

  private static double least(List<Double> values) {
    return values.stream().mapToDouble(v -> v).min().orElse(0);
  }

  private static double greatest(List<Double> values) {
    return values.stream().mapToDouble(v -> v).max().orElse(0);
  }
}
