package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

@Component
class LineStretchers extends Shelf<LineStretcher> {
  private static final double MAX_READING_MM = 10_000;

  LineStretchers(JdbcClient jdbc, AuditLog audit) {
    super(jdbc, audit, "line_stretcher", "line stretcher");
  }

  @Override
  void check(LineStretcher draft, DraftProblems problems) {
    problems.range("airIndex", draft.airIndex(), 1, 1.01, "");
    problems.range("minMm", draft.minMm(), -MAX_READING_MM, MAX_READING_MM, "mm");
    problems.range("maxMm", draft.maxMm(), -MAX_READING_MM, MAX_READING_MM, "mm");
    if (draft.minMm() >= draft.maxMm()) {
      problems.add(
          "maxMm",
          Sentence.of(
              "catalog.maxNotAbove",
              NumberText.digits(draft.maxMm()),
              NumberText.digits(draft.minMm())));
    }
    problems.range("lockMinMm", draft.lockMinMm(), draft.minMm(), draft.maxMm(), "mm");
    problems.range("lockMaxMm", draft.lockMaxMm(), draft.minMm(), draft.maxMm(), "mm");
    if (draft.lockMinMm() >= draft.lockMaxMm()) {
      problems.add(
          "lockMaxMm",
          Sentence.of(
              "catalog.lockNotAbove",
              NumberText.digits(draft.lockMaxMm()),
              NumberText.digits(draft.lockMinMm())));
    }
    problems.above(
        "resolutionMm", draft.resolutionMm(), 0, draft.lockMaxMm() - draft.lockMinMm(), "mm");
    checkCalibration(draft, problems);
    if (draft.calibrationDue() != null) {
      problems.checkDay("calibrationDue", draft.calibrationDue());
    }
  }

  private static void checkCalibration(LineStretcher draft, DraftProblems problems) {
    String field = "calibration";
    List<CalibrationPoint> points = draft.calibration();
    problems.pointCount(field, points.size());
    boolean rising =
        points.size() < 2
            || points.get(1).electricalLengthMm() > points.get(0).electricalLengthMm();
    for (int i = 0; i < points.size(); i++) {
      CalibrationPoint point = points.get(i);
      problems.point(
          field, i, "catalog.point.reading", point.readingMm(), draft.minMm(), draft.maxMm(), "mm");
      problems.point(
          field,
          i,
          "catalog.point.electricalLength",
          point.electricalLengthMm(),
          -10 * MAX_READING_MM,
          10 * MAX_READING_MM,
          "mm");
      if (i > 0) {
        checkStep(field, i, points.get(i - 1), point, rising, problems);
      }
    }
    if (!points.isEmpty()) {
      CalibrationPoint first = points.get(0);
      CalibrationPoint last = points.get(points.size() - 1);
      if (first.readingMm() > draft.minMm() || last.readingMm() < draft.maxMm()) {
        problems.add(
            field,
            Sentence.of(
                "catalog.tableShort",
                NumberText.digits(first.readingMm()),
                NumberText.digits(last.readingMm()),
                NumberText.digits(draft.minMm()),
                NumberText.digits(draft.maxMm())));
      }
    }
  }

  private static void checkStep(
      String field,
      int index,
      CalibrationPoint before,
      CalibrationPoint point,
      boolean rising,
      DraftProblems problems) {
    if (!(point.readingMm() > before.readingMm())) {
      problems.add(
          field,
          Sentence.of(
              "catalog.readingNotRising",
              index + 1,
              NumberText.digits(point.readingMm()),
              NumberText.digits(before.readingMm())));
    }
    double step = point.electricalLengthMm() - before.electricalLengthMm();
    if (!(rising ? step > 0 : step < 0)) {
      problems.add(
          field,
          Sentence.of(
              "catalog.lengthNotMonotone",
              index + 1,
              NumberText.digits(point.electricalLengthMm()),
              NumberText.digits(before.electricalLengthMm())));
    }
  }

  @Override
  Map<String, @Nullable Object> columns(LineStretcher draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("geometry", draft.geometry().name());
    values.put("air_index", draft.airIndex());
    values.put("min_mm", draft.minMm());
    values.put("max_mm", draft.maxMm());
    values.put("lock_min_mm", draft.lockMinMm());
    values.put("lock_max_mm", draft.lockMaxMm());
    values.put("resolution_mm", draft.resolutionMm());
    values.put("calibration_due", draft.calibrationDue());
    return values;
  }

  @Override
  String details(LineStretcher entry) {
    return DraftProblems.joined(
        entry.calibration(),
        p -> NumberText.plain(p.readingMm()) + ": " + NumberText.plain(p.electricalLengthMm()));
  }

  @Override
  void writeChildren(long id, LineStretcher draft) {
    clearChildren("line_stretcher_calibration_point", "line_stretcher_id", id);
    for (CalibrationPoint point : draft.calibration()) {
      jdbc()
          .sql(
              "insert into line_stretcher_calibration_point (line_stretcher_id, reading_mm, electrical_length_mm) values (:id, :reading, :length)")
          .param("id", id)
          .param("reading", point.readingMm())
          .param("length", point.electricalLengthMm())
          .update();
    }
  }

  @Override
  RowMapper<LineStretcher> reader(@Nullable Long onlyId) {
    Map<Long, List<CalibrationPoint>> tables =
        children(
            "line_stretcher_calibration_point",
            "line_stretcher_id",
            "reading_mm",
            onlyId,
            (row, i) ->
                new CalibrationPoint(
                    row.getDouble("reading_mm"), row.getDouble("electrical_length_mm")));
    return (row, i) ->
        new LineStretcher(
            row.getLong("id"),
            row.getInt("version"),
            row.getString("name"),
            LineStretcher.Geometry.valueOf(row.getString("geometry")),
            row.getDouble("air_index"),
            row.getDouble("min_mm"),
            row.getDouble("max_mm"),
            row.getDouble("lock_min_mm"),
            row.getDouble("lock_max_mm"),
            row.getDouble("resolution_mm"),
            tables.getOrDefault(row.getLong("id"), List.of()),
            date(row, "calibration_due"),
            row.getString("note"));
  }
}
