package org.equiphase.catalog;

import java.util.List;

/**
 * One field of a form.
 *
 * @param label what the field holds, with its unit
 * @param hint what would do, or what the value is used for; may be empty
 */
record Field(String name, String label, Type type, String hint, List<Choice> choices) {

  enum Type {
    TEXT,
    NUMBER,
    DAY,
    NOTE,
    TABLE,
    ONE_OF,
    SOME_OF
  }

  record Choice(String value, String label) {}

  /** Whether the field takes the form's whole width. */
  public boolean wide() {
    return type == Type.TABLE || type == Type.NOTE || type == Type.SOME_OF;
  }

  static Field name(String hint) {
    return new Field("name", "Name", Type.TEXT, hint, List.of());
  }

  static Field note() {
    return new Field("note", "Note", Type.NOTE, "", List.of());
  }

  static Field text(String name, String label, String hint) {
    return new Field(name, label, Type.TEXT, hint, List.of());
  }

  static Field number(String name, String label, String hint) {
    return new Field(name, label, Type.NUMBER, hint, List.of());
  }

  static Field day(String name, String label, String hint) {
    return new Field(name, label, Type.DAY, hint, List.of());
  }

  static Field table(String name, String label, String hint) {
    return new Field(name, label, Type.TABLE, hint, List.of());
  }

  static Field oneOf(String name, String label, String hint, List<Choice> choices) {
    return new Field(name, label, Type.ONE_OF, hint, choices);
  }

  static Field someOf(String name, String label, String hint, List<Choice> choices) {
    return new Field(name, label, Type.SOME_OF, hint, choices);
  }
}
