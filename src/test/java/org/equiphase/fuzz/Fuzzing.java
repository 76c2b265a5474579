package org.equiphase.fuzz;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import com.sun.management.ThreadMXBean;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.slf4j.LoggerFactory;

/**
 * Gives a reader many broken files. It may refuse them as it says it does; it must not fail
 * otherwise, nor take more than a second of processor time or more memory than its files deserve.
 */
public final class Fuzzing {

  private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();
  private static final long LONGEST_NS = 1_000_000_000L;

  /** Garbage included; for large files as many times their size. */
  private static final long MOST_BYTES = 512L << 20;

  private static final long MOST_TIMES_ITS_SIZE = 64;

  /** Findings that look the same are kept once. */
  private static final Path FINDINGS = Path.of("target", "fuzz");

  private final String name;
  private final Consumer<byte[]> reader;
  private final Set<String> found = new HashSet<>();
  private long longestNs;
  private long mostBytes;
  private long inputs;

  /**
   * @param reader throws nothing for a file that it reads or refuses
   */
  public Fuzzing(String name, Consumer<byte[]> reader) {
    this.name = name;
    this.reader = reader;
  }

  /** Its library says of each broken file that it is broken. */
  static void quiet() {
    ((Logger) LoggerFactory.getLogger("org.apache.poi")).setLevel(Level.OFF);
  }

  /** Gives it as many broken files made from good ones. */
  public Fuzzing broken(long seed, int count, List<byte[]> good, List<String> words, int longest) {
    Mutator mutator = new Mutator(seed, good, words, longest);
    for (int i = 0; i < count; i++) {
      give(mutator.next());
    }
    return this;
  }

  /** Gives it one file. */
  public Fuzzing give(byte[] file) {
    inputs++;
    long beforeBytes = THREADS.getCurrentThreadAllocatedBytes();
    long beforeNs = THREADS.getCurrentThreadCpuTime();
    try {
      reader.accept(file);
    } catch (RuntimeException | StackOverflowError | OutOfMemoryError e) {
      keep(file, e.getClass().getSimpleName() + " " + place(e), e);
    }
    long tookNs = THREADS.getCurrentThreadCpuTime() - beforeNs;
    long tookBytes = THREADS.getCurrentThreadAllocatedBytes() - beforeBytes;
    longestNs = Math.max(longestNs, tookNs);
    mostBytes = Math.max(mostBytes, tookBytes);
    if (tookNs > LONGEST_NS) {
      keep(file, "slow", new IllegalStateException(tookNs / 1_000_000 + " ms"));
    }
    if (tookBytes > Math.max(MOST_BYTES, MOST_TIMES_ITS_SIZE * file.length)) {
      keep(file, "greedy", new IllegalStateException((tookBytes >> 20) + " MB"));
    }
    return this;
  }

  /** The files found earlier, which must do now. */
  public static List<byte[]> kept(String folder) {
    try (Stream<Path> files = Files.list(Path.of("src/test/resources/fuzz", folder))) {
      return files.sorted().map(Fuzzing::bytes).toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static byte[] bytes(Path file) {
    try {
      return Files.readAllBytes(file);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static String place(Throwable thrown) {
    for (StackTraceElement each : thrown.getStackTrace()) {
      if (each.getClassName().startsWith("org.equiphase.")) {
        return each.getClassName() + "." + each.getMethodName() + ":" + each.getLineNumber();
      }
    }
    return "";
  }

  private void keep(byte[] file, String what, Throwable thrown) {
    if (!found.add(what)) {
      return;
    }
    try {
      Files.createDirectories(FINDINGS);
      Path kept = FINDINGS.resolve(name + "-" + found.size());
      Files.write(kept, file);
      System.out.println(kept + ": " + what + ": " + thrown);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** What went wrong, one line for each kind. */
  public Set<String> found() {
    return Set.copyOf(found);
  }

  /** A row of figures. */
  public String row() {
    return String.format(
        Locale.ROOT,
        "| %s | %d | %d | %.0f | %.1f |",
        name,
        inputs,
        found.size(),
        longestNs / 1e6,
        mostBytes / 1048576.0);
  }
}
