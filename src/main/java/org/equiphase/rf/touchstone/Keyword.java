package org.equiphase.rf.touchstone;

import java.util.Arrays;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/** Keywords of version 2. */
enum Keyword {
  VERSION("[Version]"),
  NUMBER_OF_PORTS("[Number of Ports]"),
  TWO_PORT_DATA_ORDER("[Two-Port Data Order]"),
  NUMBER_OF_FREQUENCIES("[Number of Frequencies]"),
  NUMBER_OF_NOISE_FREQUENCIES("[Number of Noise Frequencies]"),
  REFERENCE("[Reference]"),
  MATRIX_FORMAT("[Matrix Format]"),
  MIXED_MODE_ORDER("[Mixed-Mode Order]"),
  BEGIN_INFORMATION("[Begin Information]"),
  END_INFORMATION("[End Information]"),
  NETWORK_DATA("[Network Data]"),
  NOISE_DATA("[Noise Data]"),
  END("[End]");

  private final String text;

  Keyword(String text) {
    this.text = text;
  }

  String text() {
    return text;
  }

  /** The keyword written so, in any case, brackets included; null if there is none. */
  static @Nullable Keyword of(String written) {
    for (Keyword keyword : values()) {
      if (keyword.text.equalsIgnoreCase(written)) {
        return keyword;
      }
    }
    return null;
  }

  static String list() {
    return Arrays.stream(values()).map(Keyword::text).collect(Collectors.joining(" "));
  }
}
