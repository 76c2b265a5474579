package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.CableType.TemperaturePoint;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

@Component
class CableTypeForm implements EntryForm<CableType> {
  private final Catalog catalog;

  CableTypeForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "cable-types";
  }

  @Override
  public String noun() {
    return "cable type";
  }

  @Override
  public List<Field> fields() {
    return List.of(
        Field.name("catalog.form.onTheReel"),
        Field.number(
            "velocityFactor", "catalog.form.velocityFactor", "catalog.form.velocityFactorHint"),
        Field.number(
            "velocityFactorTolerance",
            "catalog.form.velocityTolerance",
            "catalog.form.velocityToleranceHint"),
        Field.number("impedanceOhm", "catalog.form.impedance", ""),
        Field.number("skinLossDbPerM", "catalog.form.skinLoss", "catalog.form.skinLossHint"),
        Field.number(
            "dielectricLossDbPerM",
            "catalog.form.dielectricLoss",
            "catalog.form.dielectricLossHint"),
        Field.table(
            "temperatureCurve",
            "catalog.form.temperatureCurve",
            "catalog.form.temperatureCurveHint"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of("impedanceOhm", List.of("50"));
  }

  @Override
  public Map<String, List<String>> texts(CableType entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("velocityFactor", List.of(NumberText.typed(entry.velocityFactor())));
    texts.put(
        "velocityFactorTolerance", List.of(NumberText.typed(entry.velocityFactorTolerance())));
    texts.put("impedanceOhm", List.of(NumberText.typed(entry.impedanceOhm())));
    texts.put("skinLossDbPerM", List.of(NumberText.typed(entry.skinLossDbPerM())));
    texts.put("dielectricLossDbPerM", List.of(NumberText.typed(entry.dielectricLossDbPerM())));
    texts.put(
        "temperatureCurve",
        List.of(
            EntryForm.rows(
                entry.temperatureCurve(),
                TemperaturePoint::temperatureC,
                TemperaturePoint::lengthPpm)));
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public List<Sentence> meaning(CableType entry) {
    return List.of(
        Sentence.of("catalog.means.delay", Digits.of(entry.nominalDelayNsPerM(), 4)),
        Sentence.of("catalog.means.phase", Digits.of(entry.phaseDegPerMm(1e9), 4)),
        Sentence.of(
            "catalog.means.loss",
            Digits.of(entry.lossDbPerM(1e9), 3),
            Digits.of(entry.lossDbPerM(10e9), 3)));
  }

  @Override
  public CableType get(long id) {
    return catalog.cableType(id);
  }

  @Override
  public CableType save(long id, int version, FormReader form) {
    CableType draft =
        new CableType(
            id,
            version,
            form.text("name"),
            form.number("velocityFactor"),
            form.number("velocityFactorTolerance"),
            form.number("impedanceOhm"),
            form.number("skinLossDbPerM"),
            form.number("dielectricLossDbPerM"),
            form.rows("temperatureCurve").stream()
                .map(row -> new TemperaturePoint(row.first(), row.second()))
                .toList(),
            form.text("note"));
    return catalog.save(draft, form.problems());
  }
}
