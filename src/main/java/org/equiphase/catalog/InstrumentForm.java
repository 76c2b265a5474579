package org.equiphase.catalog;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.springframework.stereotype.Component;

@Component
class InstrumentForm implements EntryForm<Instrument> {
  private final Catalog catalog;

  InstrumentForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "instruments";
  }

  @Override
  public String noun() {
    return "instrument";
  }

  @Override
  public List<Field> fields() {
    List<Field> fields = new ArrayList<>();
    fields.addAll(own());
    fields.addAll(ScpiConnectionForm.fields());
    return fields;
  }

  private static List<Field> own() {
    return List.of(
        Field.name("catalog.form.shopName"),
        Field.text("serialNumber", "catalog.form.serialNumber", ""),
        Field.number(
            "phaseStandardUncertaintyDeg",
            "catalog.form.phaseUncertainty",
            "catalog.form.phaseUncertaintyHint"),
        Field.day("calibrationDue", "catalog.form.calibrationDue", ""),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return ScpiConnectionForm.blank();
  }

  @Override
  public Map<String, List<String>> texts(Instrument entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("serialNumber", List.of(entry.serialNumber()));
    texts.put(
        "phaseStandardUncertaintyDeg",
        List.of(NumberText.typed(entry.phaseStandardUncertaintyDeg())));
    texts.put("calibrationDue", List.of(entry.calibrationDue().toString()));
    texts.put("note", List.of(entry.note()));
    texts.putAll(ScpiConnectionForm.texts(entry.connection()));
    return texts;
  }

  @Override
  public Instrument get(long id) {
    return catalog.instrument(id);
  }

  @Override
  public Instrument save(long id, int version, FormReader form) {
    Instrument draft =
        new Instrument(
            id,
            version,
            form.text("name"),
            form.text("serialNumber"),
            form.number("phaseStandardUncertaintyDeg"),
            form.day("calibrationDue"),
            form.text("note"),
            ScpiConnectionForm.read(form));
    return catalog.save(draft, form.problems());
  }
}
