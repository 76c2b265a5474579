package org.equiphase.rf;

/** Checks of single values; each returns the value it checked. */
final class Require {
  private Require() {}

  static double finite(String field, double value) {
    if (!Double.isFinite(value)) {
      throw new InvalidQuantityException(field, field + " must be a finite number, not " + value);
    }
    return value;
  }

  static double positive(String field, double value) {
    finite(field, value);
    if (value <= 0) {
      throw new InvalidQuantityException(field, field + " must be above 0, not " + value);
    }
    return value;
  }

  static double notNegative(String field, double value) {
    finite(field, value);
    if (value < 0) {
      throw new InvalidQuantityException(field, field + " must be 0 or more, not " + value);
    }
    return value;
  }

  static double within(String field, double value, double lowest, double highest) {
    finite(field, value);
    if (value < lowest || value > highest) {
      throw new InvalidQuantityException(
          field, field + " must lie from " + lowest + " to " + highest + ", not " + value);
    }
    return value;
  }

  static int passes(int passes) {
    if (passes != 1 && passes != 2) {
      throw new InvalidQuantityException(
          "passes", "passes must be 1 (transmission) or 2 (reflection), not " + passes);
    }
    return passes;
  }

  /** A result that overflowed is the fault of the named field. */
  static double finiteResult(String field, double value, double result) {
    if (!Double.isFinite(result)) {
      throw new InvalidQuantityException(
          field, field + " " + value + " gives a result too large to represent");
    }
    return result;
  }
}
