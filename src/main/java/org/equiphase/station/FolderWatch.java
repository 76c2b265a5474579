package org.equiphase.station;

import java.io.IOException;
import java.nio.file.ClosedWatchServiceException;
import java.nio.file.Path;
import java.nio.file.StandardWatchEventKinds;
import java.nio.file.WatchKey;
import java.nio.file.WatchService;
import java.time.Duration;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** Waits until something changes in a folder, where the system tells of it, or a while at most. */
final class FolderWatch implements AutoCloseable {

  /** Changes come in bursts; one look at the folder is enough for one. */
  private static final long BURST_MS = 50;

  private final CountDownLatch stop;
  private final @Nullable WatchService changes;

  FolderWatch(Path folder, CountDownLatch stop) {
    this.stop = stop;
    WatchService service = null;
    try {
      service = folder.getFileSystem().newWatchService();
      folder.register(
          service, StandardWatchEventKinds.ENTRY_CREATE, StandardWatchEventKinds.ENTRY_MODIFY);
    } catch (IOException | UnsupportedOperationException e) {
      // Listing at intervals finds the files too, only later.
      service = null;
    }
    changes = service;
  }

  void await(Duration longest) throws InterruptedException {
    if (changes == null) {
      pause(longest);
      return;
    }
    try {
      WatchKey key = changes.poll(longest.toMillis(), TimeUnit.MILLISECONDS);
      if (key != null) {
        pause(Duration.ofMillis(BURST_MS));
        key.pollEvents();
        key.reset();
      }
    } catch (ClosedWatchServiceException e) {
      pause(longest);
    }
  }

  /** Waits, unless the station is to end. */
  void pause(Duration pause) throws InterruptedException {
    stop.await(pause.toMillis(), TimeUnit.MILLISECONDS);
  }

  @Override
  public void close() throws IOException {
    if (changes != null) {
      changes.close();
    }
  }
}
