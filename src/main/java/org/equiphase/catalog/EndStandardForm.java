package org.equiphase.catalog;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.web.Sentence;
import org.springframework.stereotype.Component;

@Component
class EndStandardForm implements EntryForm<EndStandard> {
  private final Catalog catalog;

  EndStandardForm(Catalog catalog) {
    this.catalog = catalog;
  }

  @Override
  public String path() {
    return "end-standards";
  }

  @Override
  public String noun() {
    return "end standard";
  }

  @Override
  public List<Field> fields() {
    return List.of(
        Field.name("catalog.form.labelOnPart"),
        Field.oneOf(
            "kind",
            "catalog.form.kind",
            "",
            List.of(
                new Field.Choice("SHORT", Sentence.of("catalog.form.short")),
                new Field.Choice("OPEN", Sentence.of("catalog.form.open")))),
        Field.number("offsetDelayPs", "catalog.form.offsetDelay", "catalog.form.offsetDelayHint"),
        Field.number("offsetLossDb", "catalog.form.offsetLoss", "catalog.form.growsWithRoot"),
        coefficient(0, "1e-15 F", "1e-12 H"),
        coefficient(1, "1e-27 F/Hz", "1e-24 H/Hz"),
        coefficient(2, "1e-36 F/Hz²", "1e-33 H/Hz²"),
        coefficient(3, "1e-45 F/Hz³", "1e-42 H/Hz³"),
        Field.note());
  }

  @Override
  public Map<String, List<String>> blank() {
    return Map.of(
        "offsetLossDb", List.of("0"),
        "coefficients[0]", List.of("0"),
        "coefficients[1]", List.of("0"),
        "coefficients[2]", List.of("0"),
        "coefficients[3]", List.of("0"));
  }

  @Override
  public Map<String, List<String>> texts(EndStandard entry) {
    Map<String, List<String>> texts = new LinkedHashMap<>();
    texts.put("name", List.of(entry.name()));
    texts.put("kind", List.of(entry.kind().name()));
    texts.put("offsetDelayPs", List.of(NumberText.typed(entry.offsetDelayPs())));
    texts.put("offsetLossDb", List.of(NumberText.typed(entry.offsetLossDb())));
    for (int i = 0; i < entry.coefficients().size(); i++) {
      texts.put("coefficients[" + i + "]", List.of(NumberText.typed(entry.coefficients().get(i))));
    }
    texts.put("note", List.of(entry.note()));
    return texts;
  }

  @Override
  public EndStandard get(long id) {
    return catalog.endStandard(id);
  }

  @Override
  public EndStandard save(long id, int version, FormReader form) {
    EndStandard draft =
        new EndStandard(
            id,
            version,
            form.text("name"),
            form.choice("kind", EndStandard.Kind.class),
            form.number("offsetDelayPs"),
            form.number("offsetLossDb"),
            List.of(
                form.number("coefficients[0]"),
                form.number("coefficients[1]"),
                form.number("coefficients[2]"),
                form.number("coefficients[3]")),
            form.text("note"));
    return catalog.save(draft, form.problems());
  }

  private static Field coefficient(int index, String unitOfOpen, String unitOfShort) {
    return new Field(
        "coefficients[" + index + "]",
        Sentence.of("catalog.form.coefficient", index, unitOfOpen, unitOfShort),
        Field.Type.NUMBER,
        index == 0 ? Sentence.of("catalog.form.coefficientHint") : null,
        List.of());
  }
}
