package org.equiphase.matching;

import org.jspecify.annotations.Nullable;

/** Counts steps of the search, so that a limit on it gives the same answer on every machine. */
final class Work {

  private final @Nullable Work whole;
  private long left;

  Work(long limit) {
    this(null, limit);
  }

  private Work(@Nullable Work whole, long limit) {
    this.whole = whole;
    left = limit;
  }

  /** A part of what is left, for one stage; what it spends is spent here too. */
  Work share(double fraction) {
    return part((long) (Math.max(0, left) * fraction));
  }

  /** A given number of steps for one stage; what it spends is spent here too. */
  Work part(long limit) {
    return new Work(this, limit);
  }

  void spend(long steps) {
    left -= steps;
    if (whole != null) {
      whole.spend(steps);
    }
  }

  long left() {
    return left;
  }

  boolean exhausted() {
    return left < 0;
  }
}
