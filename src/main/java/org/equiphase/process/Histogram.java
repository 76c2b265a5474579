package org.equiphase.process;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;

/**
 * How often values occur, drawn on a field 600 wide and 160 high.
 *
 * @param lowerX and upperX: where the limits stand; null without
 */
public record Histogram(List<Bar> bars, @Nullable Double lowerX, @Nullable Double upperX) {

  private static final double WIDTH = 600;
  private static final double HEIGHT = 160;

  public Histogram {
    bars = List.copyOf(bars);
  }

  /** How many values lie from {@code from} to {@code to}. */
  public record Bar(
      double from, double to, int count, double x, double y, double width, double height) {}

  /** About √n classes of the same width. */
  static Histogram of(double[] values, @Nullable Double lower, @Nullable Double upper) {
    double least = DoubleStream.of(values).min().orElseThrow();
    double greatest = DoubleStream.of(values).max().orElseThrow();
    int classes = (int) Math.min(20, Math.max(5, Math.ceil(Math.sqrt(values.length))));
    double step = greatest > least ? (greatest - least) / classes : 1;
    int[] counts = new int[classes];
    for (double value : values) {
      counts[Math.min(classes - 1, (int) ((value - least) / step))]++;
    }
    int most = 0;
    for (int count : counts) {
      most = Math.max(most, count);
    }
    double left = Math.min(least, lower == null ? least : lower) - step / 2;
    double right = Math.max(least + classes * step, upper == null ? greatest : upper) + step / 2;
    double scale = WIDTH / (right - left);
    List<Bar> bars = new ArrayList<>();
    for (int i = 0; i < classes; i++) {
      double from = least + i * step;
      double height = (HEIGHT - 10) * counts[i] / most;
      bars.add(
          new Bar(
              from,
              from + step,
              counts[i],
              (from - left) * scale,
              HEIGHT - height,
              step * scale,
              height));
    }
    return new Histogram(
        bars,
        lower == null ? null : (Double) ((lower - left) * scale),
        upper == null ? null : (Double) ((upper - left) * scale));
  }
}
