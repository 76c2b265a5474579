package org.equiphase.benchmark;

import java.io.BufferedReader;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import java.util.StringTokenizer;
import java.util.concurrent.TimeUnit;
import org.equiphase.rf.Complex;
import org.equiphase.rf.touchstone.FrequencyUnit;
import org.equiphase.rf.touchstone.NumberFormat;
import org.equiphase.rf.touchstone.ReadLimits;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.rf.touchstone.TouchstoneReader;
import org.equiphase.rf.touchstone.TouchstoneVersion;
import org.equiphase.rf.touchstone.TouchstoneWriter;
import org.equiphase.rf.touchstone.WriteOptions;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Reading a two-port sweep, beside a loop that only splits the same bytes at blanks and parses each
 * number with {@link Double#parseDouble}.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
@Fork(1)
public class TouchstoneBenchmark {

  @Param({"201", "20001"})
  int points;

  @Param({"RI", "DB"})
  NumberFormat format;

  byte[] file = {};

  /** A lossy line of 10 ns, with the digits that instruments write. */
  @Setup
  public void write() throws IOException {
    double[] frequencyHz = new double[points];
    Complex[][][] s = new Complex[points][][];
    for (int i = 0; i < points; i++) {
      frequencyHz[i] = 2e9 + 1e5 * i;
      Complex through = Complex.ofPolarDeg(0.9 - 1e-6 * i, -360 * frequencyHz[i] * 10e-9);
      Complex back = Complex.ofPolarDeg(0.03, 77.7 * i);
      s[i] = new Complex[][] {{back, through}, {through, back}};
    }
    StringBuilder text = new StringBuilder();
    TouchstoneWriter.write(
        TouchstoneFile.of(new double[] {50, 50}, frequencyHz, s, List.of()),
        new WriteOptions(TouchstoneVersion.V1, format, FrequencyUnit.GHZ),
        text);
    file = shortened(text).getBytes(StandardCharsets.US_ASCII);
  }

  /** Nine decimals, as instruments write them; the writer keeps every digit of a double. */
  private static String shortened(StringBuilder text) {
    StringBuilder lines = new StringBuilder();
    for (String line : text.toString().lines().toList()) {
      if (line.isEmpty() || "!#".indexOf(line.charAt(0)) >= 0) {
        lines.append(line).append('\n');
        continue;
      }
      StringTokenizer numbers = new StringTokenizer(line);
      while (numbers.hasMoreTokens()) {
        lines.append(String.format(Locale.ROOT, "%.9g ", Double.parseDouble(numbers.nextToken())));
      }
      lines.append('\n');
    }
    return lines.toString();
  }

  @Benchmark
  public TouchstoneFile ours() throws IOException {
    return TouchstoneReader.read(
        new ByteArrayInputStream(file), OptionalInt.of(2), ReadLimits.USUAL);
  }

  @Benchmark
  public double peer() throws IOException {
    double sum = 0;
    String text = new String(file, StandardCharsets.ISO_8859_1);
    try (BufferedReader lines = new BufferedReader(new StringReader(text))) {
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        if (line.isEmpty() || line.charAt(0) == '#' || line.charAt(0) == '!') {
          continue;
        }
        StringTokenizer numbers = new StringTokenizer(line);
        while (numbers.hasMoreTokens()) {
          sum += Double.parseDouble(numbers.nextToken());
        }
      }
    }
    return sum;
  }
}
