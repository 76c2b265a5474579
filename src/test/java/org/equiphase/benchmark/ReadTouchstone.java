package org.equiphase.benchmark;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.OptionalInt;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneReader;

/** Reads one file again and again and prints the mean time; for scripts that compare readers. */
public final class ReadTouchstone {

  private static final long WARM_UP_NANOS = 2_000_000_000L;
  private static final long MEASURE_NANOS = 3_000_000_000L;

  private ReadTouchstone() {}

  public static void main(String[] arguments) throws IOException {
    byte[] content = Files.readAllBytes(Path.of(arguments[0]));
    OptionalInt ports = TouchstoneReader.portsOfFileName(arguments[0]);
    meanMicros(content, ports, WARM_UP_NANOS);
    System.out.println(meanMicros(content, ports, MEASURE_NANOS));
  }

  private static double meanMicros(byte[] content, OptionalInt ports, long nanos)
      throws IOException {
    long start = System.nanoTime();
    long count = 0;
    long points = 0;
    while (System.nanoTime() - start < nanos) {
      points +=
          TouchstoneReader.read(new ByteArrayInputStream(content), ports, ReadLimits.USUAL)
              .points();
      count++;
    }
    if (points == 0) {
      throw new IllegalStateException("nothing was read");
    }
    return (System.nanoTime() - start) / 1e3 / count;
  }
}
