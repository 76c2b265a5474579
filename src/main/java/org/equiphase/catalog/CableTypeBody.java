package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.jspecify.annotations.Nullable;

/** What a client sends for a cable type; its draft tells each missing field. */
@JsonIgnoreProperties("id")
record CableTypeBody(
    @Nullable Integer version,
    @Nullable String name,
    @Nullable Double velocityFactor,
    @Nullable Double velocityFactorTolerance,
    @Nullable Double impedanceOhm,
    @Nullable Double skinLossDbPerM,
    @Nullable Double dielectricLossDbPerM,
    @Nullable List<@Nullable CurvePoint> temperatureCurve,
    @Nullable String note) {

  CableType draft(long id, int version, DraftProblems problems) {
    return new CableType(
        id,
        version,
        problems.text("name", name),
        problems.number("velocityFactor", velocityFactor),
        problems.number("velocityFactorTolerance", velocityFactorTolerance),
        problems.number("impedanceOhm", impedanceOhm),
        problems.number("skinLossDbPerM", skinLossDbPerM),
        problems.number("dielectricLossDbPerM", dielectricLossDbPerM),
        Objects.requireNonNullElse(temperatureCurve, List.<@Nullable CurvePoint>of()).stream()
            .map(CurvePoint::of)
            .toList(),
        Objects.requireNonNullElse(note, ""));
  }

  record CurvePoint(@Nullable Double temperatureC, @Nullable Double lengthPpm) {

    static TemperaturePoint of(@Nullable CurvePoint point) {
      return point == null
          ? new TemperaturePoint(Double.NaN, Double.NaN)
          : new TemperaturePoint(
              Objects.requireNonNullElse(point.temperatureC, Double.NaN),
              Objects.requireNonNullElse(point.lengthPpm, Double.NaN));
    }
  }
}
