package org.equiphase.catalog;

import static org.equiphase.catalog.NumberText.fixed;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.CableType.TemperaturePoint;
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
        Field.name("as on the reel and in the order"),
        Field.number("velocityFactor", "Velocity factor (1 = vacuum)", "nominal, such as 0.695"),
        Field.number(
            "velocityFactorTolerance",
            "Velocity factor tolerance (±, same unit)",
            "half-width of the spread between lots, such as 0.005"),
        Field.number("impedanceOhm", "Impedance (Ω)", ""),
        Field.number(
            "skinLossDbPerM",
            "Conductor loss at 1 GHz (dB/m)",
            "the part that grows with the square root of frequency"),
        Field.number(
            "dielectricLossDbPerM",
            "Dielectric loss at 1 GHz (dB/m)",
            "the part that grows with frequency"),
        Field.table(
            "temperatureCurve",
            "Phase-temperature curve (°C; ppm of electrical length)",
            "two columns, a row per point, temperatures ascending; paste from a spreadsheet works; "
                + "leave empty where not known: readings are then not corrected for temperature"),
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
    texts.put("velocityFactor", List.of(NumberText.plain(entry.velocityFactor())));
    texts.put(
        "velocityFactorTolerance", List.of(NumberText.plain(entry.velocityFactorTolerance())));
    texts.put("impedanceOhm", List.of(NumberText.plain(entry.impedanceOhm())));
    texts.put("skinLossDbPerM", List.of(NumberText.plain(entry.skinLossDbPerM())));
    texts.put("dielectricLossDbPerM", List.of(NumberText.plain(entry.dielectricLossDbPerM())));
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
  public List<String> meaning(CableType entry) {
    return List.of(
        "Nominal delay " + fixed(entry.nominalDelayNsPerM(), 4) + " ns/m.",
        "One millimetre is " + fixed(entry.phaseDegPerMm(1e9), 4) + "° at 1 GHz.",
        "Loss "
            + fixed(entry.lossDbPerM(1e9), 3)
            + " dB/m at 1 GHz, "
            + fixed(entry.lossDbPerM(10e9), 3)
            + " dB/m at 10 GHz.");
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
