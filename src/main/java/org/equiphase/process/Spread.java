package org.equiphase.process;

import java.util.List;
import java.util.Objects;
import java.util.stream.DoubleStream;
import org.equiphase.metrology.Capability;
import org.equiphase.metrology.NormalityCheck;
import org.jspecify.annotations.Nullable;

/**
 * How the values of a chart are spread, and how that fits what the orders allow.
 *
 * @param count number of values looked at; {@code withoutLimit} more have no limit to be held to
 * @param normalised whether the values are shares of their own tolerance, since no one tolerance
 *     holds for all
 * @param standardDeviation with divisor n − 1
 * @param capability null without limits, or where all values are equal
 * @param normality null with too few values, or where all are equal
 * @param few whether there are too few values for the bounds of Cpk to be good
 */
public record Spread(
    int count,
    int withoutLimit,
    boolean normalised,
    @Nullable Double lowerLimit,
    @Nullable Double upperLimit,
    double mean,
    double standardDeviation,
    @Nullable Capability capability,
    @Nullable NormalityCheck normality,
    boolean few,
    Histogram histogram) {

  /** Bissell's bounds of Cpk are good from about so many values. */
  static final int ENOUGH = 25;

  private static final double CONFIDENCE = 0.95;

  /** Null with fewer than two values to judge. */
  static @Nullable Spread of(ControlChart chart) {
    List<ProcessValue> all = chart.points().stream().map(ControlChart.Point::value).toList();
    List<ProcessValue> limited = all.stream().filter(v -> v.upperLimit() != null).toList();
    List<ProcessValue> judged = limited.isEmpty() ? all : limited;
    if (judged.size() < 2) {
      return null;
    }
    boolean oneLimit =
        judged.stream()
            .allMatch(
                v ->
                    Objects.equals(v.upperLimit(), judged.get(0).upperLimit())
                        && Objects.equals(v.lowerLimit(), judged.get(0).lowerLimit()));
    boolean normalised = !oneLimit;
    double[] values =
        judged.stream()
            .mapToDouble(
                v -> normalised ? v.value() / Objects.requireNonNull(v.upperLimit()) : v.value())
            .toArray();
    boolean bothSides = judged.get(0).lowerLimit() != null;
    Double lower = normalised ? (bothSides ? (Double) (-1.0) : null) : judged.get(0).lowerLimit();
    Double upper = normalised ? (Double) 1.0 : judged.get(0).upperLimit();
    double mean = DoubleStream.of(values).average().orElseThrow();
    double squares = DoubleStream.of(values).map(v -> (v - mean) * (v - mean)).sum();
    boolean equal = DoubleStream.of(values).allMatch(v -> v == values[0]);
    return new Spread(
        values.length,
        limited.isEmpty() ? 0 : all.size() - limited.size(),
        normalised,
        lower,
        upper,
        mean,
        Math.sqrt(squares / (values.length - 1)),
        upper == null || equal ? null : Capability.ofValues(values, lower, upper, null, CONFIDENCE),
        equal || values.length < NormalityCheck.LEAST ? null : NormalityCheck.of(values),
        values.length < ENOUGH,
        Histogram.of(values, lower, upper));
  }
}
