package org.equiphase.rf.touchstone;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.OptionalInt;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.Method;

/** Reads whatever bytes as a Touchstone file; also what a coverage-guided fuzzer calls. */
public final class TouchstoneFuzz {

  private TouchstoneFuzz() {}

  public static void fuzzerTestOneInput(byte[] file) {
    for (OptionalInt ports : new OptionalInt[] {OptionalInt.of(2), OptionalInt.empty()}) {
      try {
        TouchstoneReader.read(new ByteArrayInputStream(file), ports, ReadLimits.USUAL)
            .sweep(Method.TRANSMISSION);
      } catch (TouchstoneException | InvalidQuantityException e) {
        continue;
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
