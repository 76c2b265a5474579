package org.equiphase.measurement;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneReader;

/** Reads uploaded Touchstone files. */
final class SweepReader {

  private SweepReader() {}

  /**
   * @throws org.equiphase.rf.touchstone.TouchstoneException naming line and field
   */
  static TouchstoneFile read(String name, byte[] content) {
    try {
      return TouchstoneReader.read(
          new ByteArrayInputStream(content),
          TouchstoneReader.portsOfFileName(name),
          ReadLimits.USUAL);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
