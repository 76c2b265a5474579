package org.equiphase.catalog;

import com.fasterxml.jackson.annotation.JsonIgnoreProperties;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.jspecify.annotations.Nullable;

/** What a client sends for a line stretcher; its draft tells each missing field. */
@JsonIgnoreProperties("id")
record LineStretcherBody(
    @Nullable Integer version,
    @Nullable String name,
    LineStretcher.Geometry geometry,
    @Nullable Double airIndex,
    @Nullable Double minMm,
    @Nullable Double maxMm,
    @Nullable Double lockMinMm,
    @Nullable Double lockMaxMm,
    @Nullable Double resolutionMm,
    @Nullable List<@Nullable TablePoint> calibration,
    @Nullable LocalDate calibrationDue,
    @Nullable String note) {

  LineStretcher draft(long id, int version, DraftProblems problems) {
    return new LineStretcher(
        id,
        version,
        problems.text("name", name),
        problems.required(
            "geometry", geometry, LineStretcher.Geometry.STRAIGHT, "catalog.giveGeometry"),
        problems.number("airIndex", airIndex),
        problems.number("minMm", minMm),
        problems.number("maxMm", maxMm),
        problems.number("lockMinMm", lockMinMm),
        problems.number("lockMaxMm", lockMaxMm),
        problems.number("resolutionMm", resolutionMm),
        Objects.requireNonNullElse(calibration, List.<@Nullable TablePoint>of()).stream()
            .map(TablePoint::of)
            .toList(),
        calibrationDue,
        Objects.requireNonNullElse(note, ""));
  }

  record TablePoint(@Nullable Double readingMm, @Nullable Double electricalLengthMm) {

    static CalibrationPoint of(@Nullable TablePoint point) {
      return point == null
          ? new CalibrationPoint(Double.NaN, Double.NaN)
          : new CalibrationPoint(
              Objects.requireNonNullElse(point.readingMm, Double.NaN),
              Objects.requireNonNullElse(point.electricalLengthMm, Double.NaN));
    }
  }
}
