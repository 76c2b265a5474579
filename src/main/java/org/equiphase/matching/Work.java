package org.equiphase.matching;

/** Counts steps of the search, so that a limit on it gives the same answer on every machine. */
final class Work {

  private long left;

  Work(long limit) {
    left = limit;
  }

  void spend(long steps) {
    left -= steps;
  }

  boolean exhausted() {
    return left < 0;
  }
}
