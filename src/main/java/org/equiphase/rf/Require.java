package org.equiphase.rf;

/**
 * Checks of single values, for the pure packages; each returns the value it checked, or throws
 * {@link InvalidQuantityException} with the field.
 */
public final class Require {
  private Require() {}

  /** A refusal whose message begins with the field. */
  public static InvalidQuantityException refuse(String field, String what) {
    return new InvalidQuantityException(field, field + " " + what);
  }

  public static double finite(String field, double value) {
    if (!Double.isFinite(value)) {
      throw refuse(field, "must be a finite number, not " + value);
    }
    return value;
  }

  public static double positive(String field, double value) {
    finite(field, value);
    if (value <= 0) {
      throw refuse(field, "must be above 0, not " + value);
    }
    return value;
  }

  public static double notNegative(String field, double value) {
    finite(field, value);
    if (value < 0) {
      throw refuse(field, "must be 0 or more, not " + value);
    }
    return value;
  }

  public static double within(String field, double value, double lowest, double highest) {
    finite(field, value);
    if (value < lowest || value > highest) {
      throw refuse(field, "must lie from " + lowest + " to " + highest + ", not " + value);
    }
    return value;
  }

  public static int passes(int passes) {
    if (passes != 1 && passes != 2) {
      throw new InvalidQuantityException(
          "passes", "passes must be 1 (transmission) or 2 (reflection), not " + passes);
    }
    return passes;
  }

  public static int count(String field, int value, int least, int most) {
    if (value < least || value > most) {
      throw refuse(field, "must be from " + least + " to " + most + ", not " + value);
    }
    return value;
  }

  /** A number small enough for its square and sums of squares to stay finite. */
  public static double moderate(String field, double value) {
    return within(field, value, -1e100, 1e100);
  }

  /** A probability or confidence level, above 0 and below 1. */
  public static double fraction(String field, double value) {
    if (!(value > 0 && value < 1)) {
      throw refuse(field, "must lie above 0 and below 1, not " + value);
    }
    return value;
  }

  /** A result that overflowed is the fault of the named field. */
  public static double finiteResult(String field, double value, double result) {
    if (!Double.isFinite(result)) {
      throw refuse(field, value + " gives a result too large to represent");
    }
    return result;
  }

  /** A result that overflowed is the fault of the named field. */
  public static double finiteResult(String field, double result) {
    if (!Double.isFinite(result)) {
      throw refuse(field, "gives a result too large to represent");
    }
    return result;
  }
}
