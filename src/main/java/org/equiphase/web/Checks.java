package org.equiphase.web;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Collects what is wrong with an input, so that all of it is said at once. */
public final class Checks {

  private final List<FieldProblem> problems = new ArrayList<>();

  /** Notes a problem of one field; the message says the value and what would do. */
  public Checks problem(String field, String message) {
    problems.add(new FieldProblem(field, message));
    return this;
  }

  /** Text that is there and no longer than {@code max} characters. */
  public Checks text(String field, @Nullable String value, int max) {
    if (value == null || value.isBlank()) {
      problem(field, "is missing; give a text of 1 to " + max + " characters");
    } else if (value.length() > max) {
      problem(field, "has " + value.length() + " characters; at most " + max + " will do");
    }
    return this;
  }

  /** A finite number in [min, max]. */
  public Checks inRange(String field, double value, double min, double max) {
    if (!(value >= min && value <= max)) {
      problem(field, "is " + value + "; give a number from " + min + " to " + max);
    }
    return this;
  }

  /** A finite number above zero and up to {@code max}. */
  public Checks positive(String field, double value, double max) {
    if (!(value > 0 && value <= max)) {
      problem(field, "is " + value + "; give a number above 0 and up to " + max);
    }
    return this;
  }

  /** Throws what was collected, if anything was. */
  public void done() {
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }
}
