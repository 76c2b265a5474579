package org.equiphase.sheet;

import org.equiphase.web.InvalidInputException;

/** Reads whatever bytes as a table; also what a coverage-guided fuzzer calls. */
public final class TableFileFuzz {

  private TableFileFuzz() {}

  public static void fuzzerTestOneInput(byte[] file) {
    try {
      TableFile.read(file);
    } catch (InvalidInputException e) {
      return;
    }
  }
}
