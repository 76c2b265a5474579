package org.equiphase.metrology;

import org.equiphase.rf.InvalidQuantityException;

/** Checks of single values; each returns the value it checked. */
final class Require {
  private Require() {}

  static InvalidQuantityException refuse(String field, String what) {
    return new InvalidQuantityException(field, field + " " + what);
  }

  static double finite(String field, double value) {
    if (!Double.isFinite(value)) {
      throw refuse(field, "must be a finite number, not " + value);
    }
    return value;
  }

  static double positive(String field, double value) {
    finite(field, value);
    if (value <= 0) {
      throw refuse(field, "must be above 0, not " + value);
    }
    return value;
  }

  static double notNegative(String field, double value) {
    finite(field, value);
    if (value < 0) {
      throw refuse(field, "must be 0 or more, not " + value);
    }
    return value;
  }

  static double within(String field, double value, double lowest, double highest) {
    finite(field, value);
    if (value < lowest || value > highest) {
      throw refuse(field, "must lie from " + lowest + " to " + highest + ", not " + value);
    }
    return value;
  }

  static int count(String field, int value, int least, int most) {
    if (value < least || value > most) {
      throw refuse(field, "must be from " + least + " to " + most + ", not " + value);
    }
    return value;
  }

  /** A number small enough for its square and sums of squares to stay finite. */
  static double moderate(String field, double value) {
    return within(field, value, -1e100, 1e100);
  }

  /** A probability or confidence level, above 0 and below 1. */
  static double fraction(String field, double value) {
    if (!(value > 0 && value < 1)) {
      throw refuse(field, "must lie above 0 and below 1, not " + value);
    }
    return value;
  }

  /** A result that overflowed is the fault of the named field. */
  static double finiteResult(String field, double result) {
    if (!Double.isFinite(result)) {
      throw refuse(field, "gives a result too large to represent");
    }
    return result;
  }
}
