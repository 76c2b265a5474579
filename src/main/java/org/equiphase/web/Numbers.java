package org.equiphase.web;

import org.jspecify.annotations.Nullable;

/** Numbers as people type them: decimal point or comma, the usual minus signs, no thousands. */
public final class Numbers {

  private Numbers() {}

  /** The number, or a refusal that names the field. */
  public static double read(String field, @Nullable String text) {
    Double value = readOptional(field, text);
    if (value == null) {
      throw InvalidInputException.of(field, "is missing; type a number");
    }
    return value;
  }

  /** The number, or null where nothing was typed. */
  public static @Nullable Double readOptional(String field, @Nullable String text) {
    if (text == null || text.isBlank()) {
      return null;
    }
    String plain = text.strip().replace('−', '-').replace('–', '-').replace(',', '.');
    if (plain.matches("[-+]?(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d{1,3})?")) {
      double value = Double.parseDouble(plain);
      if (Double.isFinite(value)) {
        return value;
      }
    }
    throw InvalidInputException.of(
        field, "\"" + text.strip() + "\" is no number; type digits with a decimal point or comma");
  }
}
