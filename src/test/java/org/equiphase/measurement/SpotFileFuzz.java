package org.equiphase.measurement;

import org.equiphase.web.InvalidInputException;

/** Reads whatever bytes as phases in CSV; also what a coverage-guided fuzzer calls. */
public final class SpotFileFuzz {

  private SpotFileFuzz() {}

  public static void fuzzerTestOneInput(byte[] file) {
    try {
      MeasurementFile.read("a.csv", file);
    } catch (InvalidInputException e) {
      return;
    }
  }
}
