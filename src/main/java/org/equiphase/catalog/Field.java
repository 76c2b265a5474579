package org.equiphase.catalog;

import java.util.List;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * One field of a form.
 *
 * @param label what the field holds, with its unit
 * @param hint what would do, or what the value is used for; null where nothing needs saying
 */
record Field(
    String name, Sentence label, Type type, @Nullable Sentence hint, List<Choice> choices) {

  enum Type {
    TEXT,
    NUMBER,
    DAY,
    NOTE,
    TABLE,
    ONE_OF,
    SOME_OF
  }

  record Choice(String value, Sentence label) {}

  /** Whether the field takes the form's whole width. */
  public boolean wide() {
    return type == Type.TABLE || type == Type.NOTE || type == Type.SOME_OF;
  }

  /** Label and hint are given by their keys; an empty hint says nothing. */
  private static Field field(
      String name, String label, Type type, String hint, List<Choice> choices) {
    return new Field(
        name, Sentence.of(label), type, hint.isEmpty() ? null : Sentence.of(hint), choices);
  }

  static Field name(String hint) {
    return field("name", "catalog.form.name", Type.TEXT, hint, List.of());
  }

  static Field note() {
    return field("note", "catalog.form.note", Type.NOTE, "", List.of());
  }

  static Field text(String name, String label, String hint) {
    return field(name, label, Type.TEXT, hint, List.of());
  }

  static Field number(String name, String label, String hint) {
    return field(name, label, Type.NUMBER, hint, List.of());
  }

  static Field day(String name, String label, String hint) {
    return field(name, label, Type.DAY, hint, List.of());
  }

  static Field table(String name, String label, String hint) {
    return field(name, label, Type.TABLE, hint, List.of());
  }

  static Field oneOf(String name, String label, String hint, List<Choice> choices) {
    return field(name, label, Type.ONE_OF, hint, choices);
  }

  static Field someOf(String name, String label, String hint, List<Choice> choices) {
    return field(name, label, Type.SOME_OF, hint, choices);
  }
}
