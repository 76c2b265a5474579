package org.equiphase.web;

import org.jspecify.annotations.Nullable;

/** Values that a request must carry. */
public final class Require {

  private Require() {}

  /** The value, or a refusal that names the missing field. */
  public static <T> T present(String field, @Nullable T value) {
    if (value == null) {
      throw InvalidInputException.of(field, Sentence.of("problem.missingInRequest"));
    }
    return value;
  }
}
