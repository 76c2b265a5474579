package org.equiphase.web;

import org.jspecify.annotations.Nullable;

/** Values that a request must carry, or may. */
public final class Require {

  private Require() {}

  /** The value, or a refusal that names the missing field. */
  public static <T> T present(String field, @Nullable T value) {
    if (value == null) {
      throw InvalidInputException.of(field, Sentence.of("problem.missingInRequest"));
    }
    return value;
  }

  /** The text without space around it; null where none is given. */
  public static @Nullable String textOrNull(@Nullable String text) {
    return text == null || text.isBlank() ? null : text.strip();
  }
}
