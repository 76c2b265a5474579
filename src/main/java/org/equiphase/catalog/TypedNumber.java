package org.equiphase.catalog;

import java.util.OptionalDouble;
import java.util.regex.Pattern;

/** Reads numbers as people type them: decimal point or decimal comma, any minus sign. */
final class TypedNumber {
  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d{1,30}([.,]\\d{0,30})?|[.,]\\d{1,30})([eE][+-]?\\d{1,3})?");
  private static final char MINUS_SIGN = '\u2212';

  private TypedNumber() {}

  /** Empty where the text is not one finite number; digits are never grouped. */
  static OptionalDouble parse(String typed) {
    String text = typed.strip().replace(MINUS_SIGN, '-');
    if (!NUMBER.matcher(text).matches()) {
      return OptionalDouble.empty();
    }
    double value = Double.parseDouble(text.replace(',', '.'));
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }
}
