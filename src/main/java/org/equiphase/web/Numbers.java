package org.equiphase.web;

import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Numbers as people type them: decimal point or comma, the usual minus signs, no thousands. */
public final class Numbers {

  private static final Pattern NUMBER =
      Pattern.compile("[+-]?(\\d{1,30}([.,]\\d{0,30})?|[.,]\\d{1,30})([eE][+-]?\\d{1,3})?");

  private Numbers() {}

  /** The number, or a refusal that names the field. */
  public static double read(String field, @Nullable String text) {
    Double value = readOptional(field, text);
    if (value == null) {
      throw InvalidInputException.of(field, Sentence.of("problem.typeANumber"));
    }
    return value;
  }

  /** The number, or null where nothing was typed. */
  public static @Nullable Double readOptional(String field, @Nullable String text) {
    if (text == null || text.isBlank()) {
      return null;
    }
    OptionalDouble value = parse(text);
    if (value.isPresent()) {
      return value.getAsDouble();
    }
    throw InvalidInputException.of(field, Sentence.of("problem.noNumber", text.strip()));
  }

  /** Empty where the text is not one finite number; digits are never grouped. */
  public static OptionalDouble parse(String typed) {
    String text = typed.strip().replace('−', '-').replace('–', '-');
    if (!NUMBER.matcher(text).matches()) {
      return OptionalDouble.empty();
    }
    double value = Double.parseDouble(text.replace(',', '.'));
    return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
  }
}
