package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

@Component
class LineStretcherForm implements EntryForm<LineStretcher> {
  private final Catalog catalog;

  LineStretcherForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "line-stretchers";
  }

  @Override
  public String noun() {
    return "line stretcher";
  }

  @Override
  public List<Field> fields() {
    return List.of(
        Field.name("catalog.form.labelOnPart"),
        Field.oneOf(
            "geometry",
            "catalog.form.geometry",
            "",
            List.of(
                new Field.Choice("STRAIGHT", Sentence.of("catalog.form.straight")),
                new Field.Choice("FOLDED", Sentence.of("catalog.form.folded")))),
        Field.number("airIndex", "catalog.form.airIndex", "catalog.form.airIndexHint"),
        Field.number("minMm", "catalog.form.minMm", ""),
        Field.number("maxMm", "catalog.form.maxMm", ""),
        Field.number("lockMinMm", "catalog.form.lockMinMm", ""),
        Field.number("lockMaxMm", "catalog.form.lockMaxMm", ""),
        Field.number("resolutionMm", "catalog.form.resolution", "catalog.form.resolutionHint"),
        Field.table("calibration", "catalog.form.calibration", "catalog.form.calibrationHint"),
        Field.day(
            "calibrationDue", "catalog.form.calibrationDue", "catalog.form.emptyWithoutTable"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of("airIndex", List.of(NumberText.typed(1.00027)));
  }

  @Override
  public Map<String, List<String>> texts(LineStretcher entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("geometry", List.of(entry.geometry().name()));
    texts.put("airIndex", List.of(NumberText.typed(entry.airIndex())));
    texts.put("minMm", List.of(NumberText.typed(entry.minMm())));
    texts.put("maxMm", List.of(NumberText.typed(entry.maxMm())));
    texts.put("lockMinMm", List.of(NumberText.typed(entry.lockMinMm())));
    texts.put("lockMaxMm", List.of(NumberText.typed(entry.lockMaxMm())));
    texts.put("resolutionMm", List.of(NumberText.typed(entry.resolutionMm())));
    texts.put(
        "calibration",
        List.of(
            EntryForm.rows(
                entry.calibration(),
                CalibrationPoint::readingMm,
                CalibrationPoint::electricalLengthMm)));
    texts.put("calibrationDue", List.of(Objects.toString(entry.calibrationDue(), "")));
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public List<Sentence> meaning(LineStretcher entry) {
    return List.of(
        Sentence.of(
            "catalog.means.slide",
            Digits.of(entry.electricalMmPerMm(), 4),
            Digits.of(entry.phaseDegPerMm(1e9), 4),
            Sentence.of(
                entry.calibration().isEmpty()
                    ? "catalog.means.byGeometry"
                    : "catalog.means.byTable")));
  }

  @Override
  public LineStretcher get(long id) {
    return catalog.lineStretcher(id);
  }

  @Override
  public LineStretcher save(long id, int version, FormReader form) {
    LineStretcher draft =
        new LineStretcher(
            id,
            version,
            form.text("name"),
            form.choice("geometry", LineStretcher.Geometry.class),
            form.number("airIndex"),
            form.number("minMm"),
            form.number("maxMm"),
            form.number("lockMinMm"),
            form.number("lockMaxMm"),
            form.number("resolutionMm"),
            form.rows("calibration").stream()
                .map(row -> new CalibrationPoint(row.first(), row.second()))
                .toList(),
            form.optionalDay("calibrationDue"),
            form.text("note"));
    return catalog.save(draft, form.problems());
  }
}
