package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.BenchBody.BudgetBody;
import org.springframework.stereotype.Component;

@Component
class BenchForm implements EntryForm<Bench> {
  private static final String EMPTY_ADDS = "standard uncertainty; empty adds nothing";

  private final Catalog catalog;

  BenchForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "benches";
  }

  @Override
  public String noun() {
    return "bench";
  }

  @Override
  public List<Field> fields() {
    return List.of(
        Field.name("what the shop calls it"),
        Field.oneOf("instrumentId", "Instrument", "", choices(catalog.instruments())),
        Field.oneOf(
            "endStandardId",
            "End standard (for reflection)",
            "leave empty on a bench for transmission only",
            choices(catalog.endStandards())),
        Field.someOf(
            "adapterIds",
            "Adapters between the calibrated plane and the assembly",
            "their delay and loss are taken off each reading",
            choices(catalog.adapters())),
        Field.oneOf(
            "referenceCableTypeId",
            "Reference cable: type",
            "takes its own change with temperature out of the drift; empty leaves it in",
            choices(catalog.cableTypes())),
        Field.number("referenceCableLengthMm", "Reference cable: length (mm)", ""),
        Field.number(
            "driftLimitDeg",
            "Drift limit (°)",
            "readings between two reference-cable checks that differ by more are put on hold"),
        Field.number(
            "referenceIntervalMin", "Time between reference-cable checks (min)", "whole minutes"),
        Field.number(
            "transmissionBudget.instrumentMagnitudeDb",
            "S21: magnitude uncertainty, k = 2 (dB)",
            "gives the phase uncertainty; empty takes the instrument's stated one"),
        Field.number(
            "transmissionBudget.connectorDeg", "S21: connector repeatability u (°)", EMPTY_ADDS),
        Field.number("transmissionBudget.flexureDeg", "S21: test-lead flexure u (°)", EMPTY_ADDS),
        Field.number(
            "transmissionBudget.temperatureC", "S21: temperature of the cable u (°C)", EMPTY_ADDS),
        Field.number(
            "reflectionBudget.instrumentMagnitudeDb",
            "S11: magnitude uncertainty, k = 2 (dB)",
            "gives the phase uncertainty; empty takes the instrument's stated one"),
        Field.number(
            "reflectionBudget.connectorDeg", "S11: connector repeatability u (°)", EMPTY_ADDS),
        Field.number("reflectionBudget.flexureDeg", "S11: test-lead flexure u (°)", EMPTY_ADDS),
        Field.number(
            "reflectionBudget.temperatureC", "S11: temperature of the cable u (°C)", EMPTY_ADDS),
        Field.day("calibrationDue", "Calibration due (date)", "of the bench as a whole"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of();
  }

  @Override
  public Map<String, List<String>> texts(Bench entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("instrumentId", List.of(Long.toString(entry.instrument().id())));
    texts.put(
        "endStandardId",
        List.of(entry.endStandard() == null ? "" : Long.toString(entry.endStandard().id())));
    texts.put("adapterIds", entry.adapters().stream().map(a -> Long.toString(a.id())).toList());
    ReferenceCable reference = entry.referenceCable();
    texts.put(
        "referenceCableTypeId",
        List.of(reference == null ? "" : Long.toString(reference.cableType().id())));
    texts.put(
        "referenceCableLengthMm",
        List.of(reference == null ? "" : NumberText.plain(reference.lengthMm())));
    texts.put("driftLimitDeg", List.of(NumberText.plain(entry.driftLimitDeg())));
    texts.put("referenceIntervalMin", List.of(NumberText.plain(entry.referenceIntervalMin())));
    budget(texts, "transmissionBudget", entry.transmissionBudget());
    budget(texts, "reflectionBudget", entry.reflectionBudget());
    texts.put("calibrationDue", List.of(entry.calibrationDue().toString()));
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public Bench get(long id) {
    return catalog.bench(id);
  }

  @Override
  public Bench save(long id, int version, FormReader form) {
    BenchBody body =
        new BenchBody(
            version,
            form.text("name"),
            form.id("instrumentId"),
            form.id("endStandardId"),
            form.ids("adapterIds"),
            form.id("referenceCableTypeId"),
            form.optionalNumber("referenceCableLengthMm"),
            form.number("driftLimitDeg"),
            form.whole("referenceIntervalMin"),
            budget(form, "transmissionBudget"),
            budget(form, "reflectionBudget"),
            form.optionalDay("calibrationDue"),
            form.text("note"));
    return catalog.save(body.draft(id, version, catalog, form.problems()), form.problems());
  }

  private static void budget(Map<String, List<String>> texts, String at, Budget budget) {
    Double db = budget.instrumentMagnitudeDb();
    texts.put(at + ".instrumentMagnitudeDb", List.of(db == null ? "" : NumberText.plain(db)));
    texts.put(at + ".connectorDeg", List.of(emptyForZero(budget.connectorDeg())));
    texts.put(at + ".flexureDeg", List.of(emptyForZero(budget.flexureDeg())));
    texts.put(at + ".temperatureC", List.of(emptyForZero(budget.temperatureC())));
  }

  private static String emptyForZero(double value) {
    return value == 0 ? "" : NumberText.plain(value);
  }

  private static BudgetBody budget(FormReader form, String at) {
    return new BudgetBody(
        form.optionalNumber(at + ".instrumentMagnitudeDb"),
        form.optionalNumber(at + ".connectorDeg"),
        form.optionalNumber(at + ".flexureDeg"),
        form.optionalNumber(at + ".temperatureC"));
  }

  private static List<Field.Choice> choices(List<? extends CatalogEntry> entries) {
    return entries.stream()
        .map(entry -> new Field.Choice(Long.toString(entry.id()), entry.name()))
        .toList();
  }
}
