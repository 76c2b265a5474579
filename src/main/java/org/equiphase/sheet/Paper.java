package org.equiphase.sheet;

import java.util.Locale;
import org.equiphase.web.InvalidInputException;

/** The paper on which a sheet is printed. */
public enum Paper {
  A4,
  LETTER;

  /** The paper that a request names: a4 or letter. */
  public static Paper of(String text) {
    try {
      return valueOf(text.toUpperCase(Locale.ROOT));
    } catch (IllegalArgumentException e) {
      throw InvalidInputException.of("paper", "is \"" + text + "\"; give a4 or letter");
    }
  }
}
