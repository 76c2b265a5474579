package org.equiphase.array;

import org.equiphase.rf.InvalidQuantityException;

/** Checks of the values that arrays are made of; each returns the value it checked. */
final class Checks {
  static final int MOST_ELEMENTS = 10_000;

  private Checks() {}

  static int elements(String field, int elements) {
    if (elements < 1 || elements > MOST_ELEMENTS) {
      throw new InvalidQuantityException(
          field, "an array has from 1 to " + MOST_ELEMENTS + " elements, not " + elements);
    }
    return elements;
  }

  static double positive(String field, double value) {
    if (!(value > 0) || Double.isInfinite(value)) {
      throw new InvalidQuantityException(
          field, field + " must be a finite number above 0, not " + value);
    }
    return value;
  }

  static double within(String field, double value, double lowest, double highest) {
    if (!(value >= lowest && value <= highest)) {
      throw new InvalidQuantityException(
          field, field + " must lie from " + lowest + " to " + highest + ", not " + value);
    }
    return value;
  }

  static double[] finite(String field, double[] values, int expected) {
    if (values.length != expected) {
      throw new InvalidQuantityException(
          field, field + " needs one value per element, " + expected + ", not " + values.length);
    }
    for (int n = 0; n < values.length; n++) {
      if (!Double.isFinite(values[n])) {
        throw new InvalidQuantityException(
            field + "[" + n + "]", field + "[" + n + "] must be a finite number, not " + values[n]);
      }
    }
    return values;
  }

  /** Amplitudes of a taper: finite, none below 0, not all 0. */
  static double[] taper(String field, double[] amplitudes) {
    elements(field, amplitudes.length);
    finite(field, amplitudes, amplitudes.length);
    double sum = 0;
    for (int n = 0; n < amplitudes.length; n++) {
      if (amplitudes[n] < 0) {
        throw new InvalidQuantityException(
            field + "[" + n + "]", field + "[" + n + "] must be 0 or more, not " + amplitudes[n]);
      }
      sum += amplitudes[n];
    }
    if (!(sum > 0) || Double.isInfinite(sum)) {
      throw new InvalidQuantityException(
          field, field + " must have a finite sum above 0, not " + sum);
    }
    return amplitudes;
  }
}
