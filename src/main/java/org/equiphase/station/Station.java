package org.equiphase.station;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CountDownLatch;
import java.util.function.Consumer;
import org.equiphase.station.Journal.Outcome;
import org.jspecify.annotations.Nullable;

/**
 * Sends the files of a folder to the service, one at a time, the oldest first. A file leaves the
 * folder only after the service has taken or refused it for certain.
 */
final class Station {

  /** Network shares don't tell of changes, so the folder is listed at least so often. */
  private static final Duration LIST_EVERY = Duration.ofSeconds(5);

  private static final long LARGEST_BYTES = 100L * 1024 * 1024;

  private final StationOptions options;
  private final ServiceClient service;
  private final Intake intake;
  private final Shelves shelves;
  private final Journal journal;
  private final Backoff backoff;
  private final Clock clock;
  private final Consumer<String> log;
  private final CountDownLatch stop = new CountDownLatch(1);
  private final Map<Path, PutOff> putOff = new HashMap<>();
  private @Nullable Long benchId;
  private String trouble = "";

  Station(
      StationOptions options,
      ServiceClient service,
      Journal journal,
      Backoff backoff,
      Clock clock,
      Consumer<String> log) {
    this.options = options;
    this.service = service;
    this.journal = journal;
    this.backoff = backoff;
    this.clock = clock;
    this.log = log;
    this.intake = new Intake(options.folder(), options.settle(), clock);
    this.shelves = new Shelves(options.folder());
  }

  /** A file that is tried again later, though others can go. */
  private record PutOff(Instant until, String reason) {}

  /** Ends the station after the present file. */
  void stop() {
    stop.countDown();
  }

  /**
   * Runs until it is stopped, or with {@code once} until nothing is left to send.
   *
   * @return whether nothing was left behind
   */
  boolean run() throws InterruptedException, IOException {
    log.accept(
        "Watching " + options.folder() + " for " + options.bench() + " at " + options.service());
    try (FolderWatch watch = new FolderWatch(options.folder(), stop)) {
      while (!stopping()) {
        try {
          sendComplete();
          boolean pending = pending();
          if (options.once() && !pending) {
            break;
          }
          watch.await(pending ? shorter(options.settle(), LIST_EVERY) : LIST_EVERY);
        } catch (TroubleException e) {
          say(e);
          watch.pause(e.needsPerson() ? backoff.longest() : backoff.next());
        }
      }
    }
    log.accept("Ended");
    return putOff.isEmpty();
  }

  private boolean stopping() {
    return stop.getCount() == 0;
  }

  private boolean pending() {
    Set<Path> left = new HashSet<>(intake.present());
    left.removeAll(putOff.keySet());
    return !left.isEmpty();
  }

  private static Duration shorter(Duration a, Duration b) {
    return a.compareTo(b) < 0 ? a : b;
  }

  private void sendComplete() throws TroubleException, InterruptedException {
    List<Path> complete;
    try {
      complete = intake.complete();
    } catch (IOException e) {
      throw TroubleException.passing("the folder can't be read: " + e);
    }
    putOff.keySet().retainAll(intake.present());
    for (Path path : complete) {
      if (stopping()) {
        return;
      }
      PutOff earlier = putOff.get(path);
      if (earlier == null || !clock.instant().isBefore(earlier.until)) {
        handle(path);
      }
    }
  }

  private void handle(Path path) throws TroubleException, InterruptedException {
    try {
      String later = "";
      if (Files.size(path) > LARGEST_BYTES) {
        refuse(path, "It has " + Files.size(path) + " bytes, far more than the service takes.");
      } else {
        OutgoingFile file = OutgoingFile.read(path);
        Optional<String> before = journal.sent(file.hash());
        if (before.isPresent()) {
          shelves.sent(path);
          log.accept(file.name() + ": sent before, " + before.get());
        } else {
          later = send(file);
        }
      }
      putOff(path, later);
    } catch (NoSuchFileException e) {
      putOff.remove(path);
    } catch (IOException e) {
      putOff(path, "can't be read, noted or moved: " + e);
    }
  }

  /** Returns why it has to be tried again; empty where it hasn't. */
  private String send(OutgoingFile file)
      throws IOException, TroubleException, InterruptedException {
    if (benchId == null) {
      benchId = service.bench(options.bench());
    }
    if (!file.unchanged()) {
      return "";
    }
    Answer answer = service.post(file, benchId, options.temperatureC());
    reached();
    if (answer instanceof Answer.Later later) {
      return later.reason();
    }
    if (answer instanceof Answer.Taken taken) {
      journal.add(clock.instant(), file.hash(), Outcome.SENT, file.name(), taken.note());
      log.accept(file.name() + ": " + taken.note());
      if (file.unchanged()) {
        shelves.sent(file.path());
      }
    } else if (answer instanceof Answer.Refused refused && file.unchanged()) {
      journal.add(clock.instant(), file.hash(), Outcome.REFUSED, file.name(), refused.reason());
      refuse(file.path(), refused.reason());
    }
    return "";
  }

  private void refuse(Path path, String reason) throws IOException {
    shelves.refused(path, reason);
    log.accept(path.getFileName() + ": refused, " + reason);
  }

  private void putOff(Path path, String reason) {
    if (reason.isEmpty()) {
      putOff.remove(path);
      return;
    }
    PutOff earlier =
        putOff.put(path, new PutOff(clock.instant().plus(options.longestPause()), reason));
    if (earlier == null || !earlier.reason.equals(reason)) {
      log.accept(path.getFileName() + ": to be tried again, " + reason);
    }
  }

  /** Says what is wrong, but not again with each try. */
  private void say(TroubleException e) {
    String message = String.valueOf(e.getMessage());
    if (e.needsPerson()) {
      benchId = null;
    }
    if (trouble.isEmpty() || (e.needsPerson() && !trouble.equals(message))) {
      log.accept("Can't send: " + message + "; trying again until it works");
      trouble = message;
    }
  }

  private void reached() {
    backoff.reset();
    if (!trouble.isEmpty()) {
      log.accept("Sending again");
      trouble = "";
    }
  }
}
