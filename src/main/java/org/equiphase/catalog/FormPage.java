package org.equiphase.catalog;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;

/**
 * What the form's page shows.
 *
 * @param version the version that a save would replace
 * @param texts the typed or stored texts by field name
 * @param errors what is wrong, by field name
 * @param differences where someone else's stored values differ from the typed ones; empty unless
 *     the entry was changed meanwhile
 * @param conflict what happened then; null otherwise
 */
record FormPage(
    Sentence title,
    String path,
    long id,
    int version,
    List<Field> fields,
    Map<String, List<String>> texts,
    Map<String, Sentence> errors,
    List<Sentence> meaning,
    @Nullable Sentence conflict,
    List<Difference> differences) {

  record Difference(Sentence label, String typed, String stored) {
    public List<String> typedLines() {
      return typed.lines().toList();
    }

    public List<String> storedLines() {
      return stored.lines().toList();
    }
  }

  /** Where the form is sent. */
  public String action() {
    return "/catalog/" + path + (id == 0 ? "" : "/" + id);
  }

  public String text(String field) {
    List<String> values = texts.getOrDefault(field, List.of());
    return values.isEmpty() ? "" : values.get(0);
  }

  public boolean chosen(String field, String value) {
    return texts.getOrDefault(field, List.of()).contains(value);
  }

  public @Nullable Sentence error(String field) {
    return errors.get(field);
  }

  /** The ids of what explains a field, for screen readers. */
  public @Nullable String describedBy(Field field) {
    String error = errors.containsKey(field.name()) ? field.name() + "-error" : "";
    String hint = field.hint() == null ? "" : field.name() + "-hint";
    String ids = (error + " " + hint).strip();
    return ids.isEmpty() ? null : ids;
  }

  /** Problems of fields that the form does not show one by one. */
  public List<FieldProblem> otherErrors() {
    return errors.entrySet().stream()
        .filter(e -> fields.stream().noneMatch(f -> f.name().equals(e.getKey())))
        .map(e -> new FieldProblem(e.getKey(), e.getValue()))
        .toList();
  }

  static List<Difference> differences(
      List<Field> fields, Map<String, List<String>> typed, Map<String, List<String>> stored) {
    return fields.stream()
        .map(field -> new Difference(field.label(), shown(field, typed), shown(field, stored)))
        .filter(difference -> !same(difference.typed(), difference.stored()))
        .toList();
  }

  private static String shown(Field field, Map<String, List<String>> texts) {
    List<String> values = texts.getOrDefault(field.name(), List.of());
    if (field.choices().isEmpty()) {
      return values.isEmpty() ? "" : values.get(0).strip();
    }
    return String.join(
        ", ",
        field.choices().stream()
            .filter(choice -> values.contains(choice.value()))
            .map(choice -> Texts.say(choice.label()))
            .toList());
  }

  /** Texts that say the same: 0,695 and 0.695, or the same table with other separators. */
  private static boolean same(String one, String other) {
    if (one.equals(other)) {
      return true;
    }
    if (Numbers.parse(one).isPresent()) {
      return Numbers.parse(one).equals(Numbers.parse(other));
    }
    PastedTable table = PastedTable.parse(one);
    return !table.rows().isEmpty() && Objects.equals(table, PastedTable.parse(other));
  }
}
