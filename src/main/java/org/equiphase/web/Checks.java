package org.equiphase.web;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/** Collects what is wrong with an input, so that all of it is said at once. */
public final class Checks {

  private final List<FieldProblem> problems = new ArrayList<>();

  /** Notes a problem of one field; the message says the value and what would do. */
  public Checks problem(String field, Sentence message) {
    problems.add(new FieldProblem(field, message));
    return this;
  }

  /** The same with a message that is text already. */
  public Checks problem(String field, String message) {
    return problem(field, Sentence.said(message));
  }

  /** Text that is there and no longer than {@code max} characters. */
  public Checks text(String field, @Nullable String value, int max) {
    if (value == null || value.isBlank()) {
      problem(field, Sentence.of("problem.textMissing", max));
    } else if (value.length() > max) {
      problem(field, Sentence.of("problem.textTooLong", value.length(), max));
    }
    return this;
  }

  /** A finite number in [min, max]. */
  public Checks inRange(String field, double value, double min, double max) {
    if (!(value >= min && value <= max)) {
      problem(
          field, Sentence.of("problem.range", Digits.of(value), Digits.of(min), Digits.of(max)));
    }
    return this;
  }

  /** A finite number above zero and up to {@code max}. */
  public Checks positive(String field, double value, double max) {
    if (!(value > 0 && value <= max)) {
      problem(field, Sentence.of("problem.positive", Digits.of(value), Digits.of(max)));
    }
    return this;
  }

  /** What a part of the input reads as; null where it is refused, and why is noted. */
  public <T> @Nullable T part(Supplier<@Nullable T> reading) {
    try {
      return reading.get();
    } catch (InvalidInputException e) {
      problems.addAll(e.problems());
      return null;
    }
  }

  /** What was collected so far. */
  public List<FieldProblem> found() {
    return List.copyOf(problems);
  }

  /** Throws what was collected, if anything was. */
  public void done() {
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
  }
}
