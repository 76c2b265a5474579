package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.util.List;
import java.util.Random;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BooleanSupplier;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/** A station in this process, with short waits. */
final class RunningStation implements AutoCloseable {

  private static final long PATIENCE_S = 60;

  final List<String> said = new CopyOnWriteArrayList<>();
  private final Station station;
  private final ExecutorService thread = Executors.newSingleThreadExecutor();
  private final Future<Boolean> end;

  RunningStation(
      String url,
      Path token,
      String bench,
      Path folder,
      @Nullable Double temperatureC,
      boolean once)
      throws IOException {
    StationOptions options =
        new StationOptions(
            URI.create(url),
            token,
            bench,
            folder,
            temperatureC,
            once,
            Duration.ofMillis(50),
            Duration.ofMillis(100));
    station =
        new Station(
            options,
            new ServiceClient(options.service(), token),
            Journal.open(folder),
            new Backoff(options.longestPause(), new Random(5)),
            Clock.systemUTC(),
            said::add);
    end = thread.submit(station::run);
  }

  /** Waits until it ends by itself; returns whether nothing was left behind. */
  boolean join() throws InterruptedException, ExecutionException, TimeoutException {
    return end.get(PATIENCE_S, TimeUnit.SECONDS);
  }

  void awaitSaid(String part) throws InterruptedException {
    await(part, () -> said.stream().anyMatch(line -> line.contains(part)));
  }

  void await(String what, BooleanSupplier condition) throws InterruptedException {
    long deadline = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
    while (!condition.getAsBoolean()) {
      assertThat(System.nanoTime()).as(what + " in " + said).isLessThan(deadline);
      Thread.sleep(10);
    }
  }

  @Override
  public void close() {
    station.stop();
    try {
      join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } catch (ExecutionException | TimeoutException e) {
      throw new AssertionError(said.toString(), e);
    } finally {
      thread.shutdown();
    }
  }

  /** The visible files of a folder. */
  static List<String> names(Path folder) throws IOException {
    if (!Files.exists(folder)) {
      return List.of();
    }
    try (Stream<Path> files = Files.list(folder)) {
      return files
          .filter(Files::isRegularFile)
          .map(file -> file.getFileName().toString())
          .filter(name -> !name.startsWith("."))
          .sorted()
          .toList();
    }
  }
}
