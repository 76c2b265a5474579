package org.equiphase.catalog;

import static org.equiphase.catalog.NumberText.fixed;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
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
        Field.name("such as the label on the part"),
        Field.number(
            "delayPs",
            "Delay, one way (ps)",
            "taken off each reading; negative where the calibration already takes off too much"),
        Field.number(
            "lossDbAt1Ghz",
            "Loss at 1 GHz, one way (dB)",
            "grows with the square root of frequency; taken off each reading"),
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
    texts.put("delayPs", List.of(NumberText.plain(entry.delayPs())));
    texts.put("lossDbAt1Ghz", List.of(NumberText.plain(entry.lossDbAt1Ghz())));
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public List<String> meaning(Adapter entry) {
    return List.of(
        "Electrical length "
            + fixed(entry.electricalLengthMm(), 3)
            + " mm; it turns the insertion "
            + "phase by "
            + fixed(entry.toRf().phaseDeg(1e9), 2)
            + "° at 1 GHz.");
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
