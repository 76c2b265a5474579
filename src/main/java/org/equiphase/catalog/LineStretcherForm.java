package org.equiphase.catalog;

import static org.equiphase.catalog.NumberText.fixed;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.catalog.LineStretcher.CalibrationPoint;
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
        Field.name("such as the label on the part"),
        Field.oneOf(
            "geometry",
            "Geometry",
            "",
            List.of(
                new Field.Choice("STRAIGHT", "Straight: 1 mm of slide adds 1 mm of air line"),
                new Field.Choice("FOLDED", "Folded: 1 mm of slide adds 2 mm of air line"))),
        Field.number("airIndex", "Refractive index of the air (1 = vacuum)", "usually 1.00027"),
        Field.number("minMm", "Smallest reading of the scale (mm)", ""),
        Field.number("maxMm", "Largest reading of the scale (mm)", ""),
        Field.number("lockMinMm", "Smallest reading at which the lock holds (mm)", ""),
        Field.number("lockMaxMm", "Largest reading at which the lock holds (mm)", ""),
        Field.number("resolutionMm", "Resolution of the scale (mm)", "settings are rounded to it"),
        Field.table(
            "calibration",
            "Calibration table (reading in mm; electrical length in mm)",
            "two columns, a row per point, readings ascending from one end of the scale to the "
                + "other; paste from a spreadsheet works; leave empty to go by the geometry"),
        Field.day("calibrationDue", "Calibration due (date)", "leave empty without a table"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of("airIndex", List.of("1.00027"));
  }

  @Override
  public Map<String, List<String>> texts(LineStretcher entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("geometry", List.of(entry.geometry().name()));
    texts.put("airIndex", List.of(NumberText.plain(entry.airIndex())));
    texts.put("minMm", List.of(NumberText.plain(entry.minMm())));
    texts.put("maxMm", List.of(NumberText.plain(entry.maxMm())));
    texts.put("lockMinMm", List.of(NumberText.plain(entry.lockMinMm())));
    texts.put("lockMaxMm", List.of(NumberText.plain(entry.lockMaxMm())));
    texts.put("resolutionMm", List.of(NumberText.plain(entry.resolutionMm())));
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
  public List<String> meaning(LineStretcher entry) {
    String source =
        entry.calibration().isEmpty()
            ? " (by geometry and air index)."
            : " (mean of the calibration table).";
    return List.of(
        "One millimetre of slide adds "
            + fixed(entry.electricalMmPerMm(), 4)
            + " mm of electrical length: "
            + fixed(entry.phaseDegPerMm(1e9), 4)
            + "° at 1 GHz in transmission, twice that in reflection"
            + source);
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
