package org.equiphase.station;

import java.time.Duration;
import java.util.random.RandomGenerator;

/** Waits between tries: from a second on twice as long each time, with jitter, up to a limit. */
final class Backoff {

  private static final long FIRST_MS = 1000;

  private final long longestMs;
  private final RandomGenerator random;
  private long stepMs;

  Backoff(Duration longest, RandomGenerator random) {
    this.longestMs = longest.toMillis();
    this.random = random;
    reset();
  }

  void reset() {
    stepMs = Math.min(FIRST_MS, longestMs);
  }

  /**
   * The next wait, somewhere in the upper half of its step, so that stations don't call at once.
   */
  Duration next() {
    long waitMs = stepMs - random.nextLong(stepMs / 2 + 1);
    stepMs = Math.min(2 * stepMs, longestMs);
    return Duration.ofMillis(waitMs);
  }

  /** A wait at the limit, for what only a person can mend. */
  Duration longest() {
    stepMs = longestMs;
    return next();
  }
}
