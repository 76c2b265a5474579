package org.equiphase.calculator;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * A field of a calculation page.
 *
 * @param name its name in the form and in the address of the page
 * @param label key of what people call it
 * @param unit symbol beside the field; null without one
 * @param example an invented value, shown in the empty field and filled in by the example
 * @param optional whether it may stay empty
 * @param options values of a choice and the keys of their texts
 * @param requestFields what the calculation itself calls this field in its refusals
 */
record Input(
    Kind kind,
    String name,
    String label,
    @Nullable String unit,
    String example,
    boolean optional,
    Map<String, String> options,
    List<String> requestFields) {

  /** How a field looks. */
  enum Kind {
    LINE,
    CHOICE,
    AREA,
    FILE
  }

  /** A number or a word. */
  static Input of(String name, String label, @Nullable String unit, String example) {
    return new Input(Kind.LINE, name, label, unit, example, false, Map.of(), List.of(name));
  }

  /** Choices as pairs of value and the key of its text; the first is the example. */
  static Input choice(String name, String label, String... options) {
    Map<String, String> map = new LinkedHashMap<>();
    for (int i = 0; i < options.length; i += 2) {
      map.put(options[i], options[i + 1]);
    }
    return new Input(Kind.CHOICE, name, label, null, options[0], false, map, List.of(name));
  }

  /** A table as text: a line per row, cells divided by tab or semicolon. */
  static Input area(String name, String label, String example) {
    return new Input(Kind.AREA, name, label, null, example, false, Map.of(), List.of(name));
  }

  static Input file(String name, String label) {
    return new Input(Kind.FILE, name, label, null, "", false, Map.of(), List.of(name));
  }

  /** The same field, called otherwise by the calculation. */
  Input as(String... names) {
    return new Input(
        kind, name, label, unit, example, optional, options, Arrays.asList(names.clone()));
  }

  /** The same field, free to stay empty. */
  Input orEmpty() {
    return new Input(kind, name, label, unit, example, true, options, requestFields);
  }

  /** Lines that the text area is high, so that its example can be seen. */
  public int rows() {
    return Math.max(3, (int) example.lines().count() + 1);
  }
}
