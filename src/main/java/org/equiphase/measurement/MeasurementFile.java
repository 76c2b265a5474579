package org.equiphase.measurement;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Locale;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.jspecify.annotations.Nullable;

/** What stands in an uploaded file: a sweep, or phases at single frequencies. */
interface MeasurementFile {

  /**
   * Reads a file: one named .csv as {@link SpotFile}, any other as Touchstone.
   *
   * @throws org.equiphase.rf.touchstone.TouchstoneException naming line and field
   * @throws org.equiphase.web.InvalidInputException naming line and column
   */
  static MeasurementFile read(String name, byte[] content) {
    return name.toLowerCase(Locale.ROOT).endsWith(".csv")
        ? SpotFileReader.read(content)
        : new Touchstone(touchstone(name, content));
  }

  /** The serial number as the file states it; null where it doesn't. */
  @Nullable String serial();

  /** The temperature as the file states it; null where it doesn't. */
  @Nullable Double temperatureC();

  /** What the file says of the assembly. */
  Reduction reduce(Reducer reducer, String serial, long benchId, double temperatureC);

  private static TouchstoneFile touchstone(String name, byte[] content) {
    try {
      return TouchstoneReader.read(
          new ByteArrayInputStream(content),
          TouchstoneReader.portsOfFileName(name),
          ReadLimits.USUAL);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A sweep, of which the file's name alone says whose it is. */
  record Touchstone(TouchstoneFile file) implements MeasurementFile {

    @Override
    public @Nullable String serial() {
      return null;
    }

    @Override
    public @Nullable Double temperatureC() {
      return null;
    }

    @Override
    public Reduction reduce(Reducer reducer, String serial, long benchId, double temperatureC) {
      return reducer.sweep(file, temperatureC);
    }
  }
}
