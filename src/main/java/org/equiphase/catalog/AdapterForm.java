package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

@Component
class AdapterForm implements EntryForm<Adapter> {
  private final Catalog catalog;

  AdapterForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "adapters";
  }

  @Override
  public String noun() {
    return "adapter";
  }

  @Override
  public List<Field> fields() {
    return List.of(
        Field.name("catalog.form.labelOnPart"),
        Field.number("delayPs", "catalog.form.delayPs", "catalog.form.delayPsHint"),
        Field.number("lossDbAt1Ghz", "catalog.form.lossAt1Ghz", "catalog.form.lossAt1GhzHint"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of();
  }

  @Override
  public Map<String, List<String>> texts(Adapter entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("delayPs", List.of(NumberText.typed(entry.delayPs())));
    texts.put("lossDbAt1Ghz", List.of(NumberText.typed(entry.lossDbAt1Ghz())));
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public List<Sentence> meaning(Adapter entry) {
    return List.of(
        Sentence.of(
            "catalog.means.electricalLength",
            Digits.of(entry.electricalLengthMm(), 3),
            Digits.of(entry.toRf().phaseDeg(1e9), 2)));
  }

  @Override
  public Adapter get(long id) {
    return catalog.adapter(id);
  }

  @Override
  public Adapter save(long id, int version, FormReader form) {
    Adapter draft =
        new Adapter(
            id,
            version,
            form.text("name"),
            form.number("delayPs"),
            form.number("lossDbAt1Ghz"),
            form.text("note"));
    return catalog.save(draft, form.problems());
  }
}
