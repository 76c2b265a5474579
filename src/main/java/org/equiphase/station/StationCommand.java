package org.equiphase.station;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.SecureRandom;
import java.time.Clock;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.equiphase.station.StationOptions.BadOptionsException;
import org.jspecify.annotations.Nullable;

/** Runs a station from the command line. */
public final class StationCommand {

  static final String LOCK_NAME = ".equiphase-station.lock";

  private static final int FAILED = 1;
  private static final int BAD_OPTIONS = 2;
  private static final int FILE_IN_HAND_S = 70;
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss", Locale.ROOT);

  private StationCommand() {}

  /**
   * Runs until the process is told to end, or with {@code --once} until all is sent.
   *
   * @param arguments the options, without the word that chose the station
   * @return the exit status: 0 well, 1 not all could be done, 2 bad options
   */
  public static int run(List<String> arguments, PrintStream out) {
    if (arguments.contains("--help")) {
      out.print(StationOptions.USAGE);
      return 0;
    }
    StationOptions options;
    try {
      options = StationOptions.read(arguments);
    } catch (BadOptionsException e) {
      out.println(e.getMessage());
      out.println();
      out.print(StationOptions.USAGE);
      return BAD_OPTIONS;
    }
    Path lockFile = options.folder().resolve(LOCK_NAME);
    try (FileChannel channel =
            FileChannel.open(lockFile, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        FileLock lock = lock(channel)) {
      if (lock == null) {
        out.println(
            "--folder is " + options.folder() + ", which another station watches; end that first");
        return FAILED;
      }
      return watch(options, out);
    } catch (IOException e) {
      out.println("The station can't work in " + options.folder() + ": " + e);
      return FAILED;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return FAILED;
    }
  }

  private static @Nullable FileLock lock(FileChannel channel) throws IOException {
    try {
      return channel.tryLock();
    } catch (OverlappingFileLockException e) {
      return null;
    }
  }

  private static int watch(StationOptions options, PrintStream out)
      throws IOException, InterruptedException {
    Station station =
        new Station(
            options,
            new ServiceClient(options.service(), options.tokenFile()),
            Journal.open(options.folder()),
            new Backoff(options.longestPause(), new SecureRandom()),
            Clock.systemUTC(),
            line ->
                out.println(LocalDateTime.now(ZoneId.systemDefault()).format(TIME) + "  " + line));
    CountDownLatch ended = new CountDownLatch(1);
    Thread atExit =
        new Thread(
            () -> {
              station.stop();
              await(ended);
            },
            "station-exit");
    Runtime.getRuntime().addShutdownHook(atExit);
    try {
      return station.run() ? 0 : FAILED;
    } finally {
      ended.countDown();
    }
  }

  /** The file in hand is seen through; a process killed before that loses nothing either. */
  private static void await(CountDownLatch ended) {
    try {
      ended.await(FILE_IN_HAND_S, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
