package org.equiphase.traveler;

import java.util.Locale;
import org.equiphase.web.InvalidInputException;

/** The paper on which a sheet is printed. */
enum Paper {
  A4,
  LETTER;

  static Paper of(String text) {
    try {
      return valueOf(text.toUpperCase(Locale.ROOT));
    } catch (IllegalArgumentException e) {
      throw InvalidInputException.of("paper", "is \"" + text + "\"; give a4 or letter");
    }
  }
}
