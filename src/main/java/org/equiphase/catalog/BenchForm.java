package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.catalog.BenchBody.BudgetBody;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

@Component
class BenchForm implements EntryForm<Bench> {
  private static final String EMPTY_ADDS = "catalog.form.emptyAdds";

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
        Field.name("catalog.form.shopName"),
        Field.oneOf("instrumentId", "catalog.form.instrument", "", choices(catalog.instruments())),
        Field.oneOf(
            "endStandardId",
            "catalog.form.endStandard",
            "catalog.form.endStandardHint",
            choices(catalog.endStandards())),
        Field.someOf(
            "adapterIds",
            "catalog.form.adapters",
            "catalog.form.adaptersHint",
            choices(catalog.adapters())),
        Field.oneOf(
            "referenceCableTypeId",
            "catalog.form.referenceType",
            "catalog.form.referenceTypeHint",
            choices(catalog.cableTypes())),
        Field.number("referenceCableLengthMm", "catalog.form.referenceLength", ""),
        Field.number("driftLimitDeg", "catalog.form.driftLimit", "catalog.form.driftLimitHint"),
        Field.number(
            "referenceIntervalMin", "catalog.form.referenceInterval", "catalog.form.wholeMinutes"),
        Field.number(
            "transmissionBudget.instrumentMagnitudeDb",
            "catalog.form.s21Magnitude",
            "catalog.form.magnitudeHint"),
        Field.number("transmissionBudget.connectorDeg", "catalog.form.s21Connector", EMPTY_ADDS),
        Field.number("transmissionBudget.flexureDeg", "catalog.form.s21Flexure", EMPTY_ADDS),
        Field.number("transmissionBudget.temperatureC", "catalog.form.s21Temperature", EMPTY_ADDS),
        Field.number(
            "reflectionBudget.instrumentMagnitudeDb",
            "catalog.form.s11Magnitude",
            "catalog.form.magnitudeHint"),
        Field.number("reflectionBudget.connectorDeg", "catalog.form.s11Connector", EMPTY_ADDS),
        Field.number("reflectionBudget.flexureDeg", "catalog.form.s11Flexure", EMPTY_ADDS),
        Field.number("reflectionBudget.temperatureC", "catalog.form.s11Temperature", EMPTY_ADDS),
        Field.day(
            "calibrationDue", "catalog.form.calibrationDue", "catalog.form.calibrationOfBench"),
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
        List.of(reference == null ? "" : NumberText.typed(reference.lengthMm())));
    texts.put("driftLimitDeg", List.of(NumberText.typed(entry.driftLimitDeg())));
    texts.put("referenceIntervalMin", List.of(NumberText.typed(entry.referenceIntervalMin())));
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
    texts.put(at + ".instrumentMagnitudeDb", List.of(db == null ? "" : NumberText.typed(db)));
    texts.put(at + ".connectorDeg", List.of(emptyForZero(budget.connectorDeg())));
    texts.put(at + ".flexureDeg", List.of(emptyForZero(budget.flexureDeg())));
    texts.put(at + ".temperatureC", List.of(emptyForZero(budget.temperatureC())));
  }

  private static String emptyForZero(double value) {
    return value == 0 ? "" : NumberText.typed(value);
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
        .map(entry -> new Field.Choice(Long.toString(entry.id()), Sentence.said(entry.name())))
        .toList();
  }
}
