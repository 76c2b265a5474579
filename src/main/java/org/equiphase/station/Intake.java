package org.equiphase.station;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.AccessDeniedException;
import java.nio.file.DirectoryIteratorException;
import java.nio.file.DirectoryStream;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.FileTime;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Finds the measurement files of a folder that are complete. */
final class Intake {

  private static final Pattern WANTED = Pattern.compile("[^.~].*\\.(s1p|s2p|ts|csv)");

  /** An instrument may create its file long before it writes the sweep into it. */
  private static final int EMPTY_SETTLES_TIMES = 30;

  private final Path folder;
  private final Duration settle;
  private final Clock clock;
  private Map<Path, Seen> seen = new HashMap<>();

  Intake(Path folder, Duration settle, Clock clock) {
    this.folder = folder;
    this.settle = settle;
    this.clock = clock;
  }

  /**
   * @param since when it was first seen so
   */
  private record Seen(long size, FileTime changed, Instant since) {}

  /** Lists the folder: the files that have not changed for a while, by time of change. */
  List<Path> complete() throws IOException {
    Instant now = clock.instant();
    Map<Path, Seen> present = new HashMap<>();
    try (DirectoryStream<Path> paths = Files.newDirectoryStream(folder)) {
      for (Path path : paths) {
        Seen state = wanted(path) ? state(path, now) : null;
        if (state != null) {
          present.put(path, state);
        }
      }
    } catch (DirectoryIteratorException e) {
      throw e.getCause();
    }
    seen = present;
    return present.entrySet().stream()
        .filter(file -> settled(file.getValue(), now) && !inUse(file.getKey()))
        .sorted(
            Comparator.<Map.Entry<Path, Seen>, FileTime>comparing(file -> file.getValue().changed)
                .thenComparing(file -> file.getKey().getFileName().toString()))
        .map(Map.Entry::getKey)
        .toList();
  }

  /** The measurement files that the last listing found, complete or not. */
  Set<Path> present() {
    return Set.copyOf(seen.keySet());
  }

  static boolean wanted(Path path) {
    return WANTED.matcher(path.getFileName().toString().toLowerCase(Locale.ROOT)).matches();
  }

  private @Nullable Seen state(Path path, Instant now) throws IOException {
    BasicFileAttributes attributes;
    try {
      attributes = Files.readAttributes(path, BasicFileAttributes.class);
    } catch (NoSuchFileException e) {
      return null;
    }
    if (!attributes.isRegularFile()) {
      return null;
    }
    Seen before = seen.get(path);
    boolean same =
        before != null
            && before.size == attributes.size()
            && before.changed.equals(attributes.lastModifiedTime());
    return same ? before : new Seen(attributes.size(), attributes.lastModifiedTime(), now);
  }

  private boolean settled(Seen state, Instant now) {
    Duration wait = state.size == 0 ? settle.multipliedBy(EMPTY_SETTLES_TIMES) : settle;
    return !now.isBefore(state.since.plus(wait));
  }

  /** Whether another program has it open, as far as the system tells. */
  private static boolean inUse(Path path) {
    try (FileChannel channel = FileChannel.open(path, StandardOpenOption.WRITE)) {
      try (FileLock lock = channel.tryLock()) {
        return lock == null;
      } catch (OverlappingFileLockException e) {
        return true;
      } catch (IOException e) {
        return false;
      }
    } catch (AccessDeniedException e) {
      return false;
    } catch (FileSystemException e) {
      return true;
    } catch (IOException e) {
      return false;
    }
  }
}
