package org.equiphase.web;

import org.equiphase.matching.InvalidProblemException;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.touchstone.TouchstoneException;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** What the pure packages refuse is the caller's fault: 400, with the field. */
@Component
class CalculationProblems implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    Sentence message = Sentence.said(String.valueOf(exception.getMessage()));
    if (exception instanceof InvalidQuantityException invalid) {
      return Problem.invalid(invalid.field(), message);
    }
    if (exception instanceof InvalidProblemException invalid) {
      return Problem.invalid(invalid.field(), message);
    }
    return exception instanceof TouchstoneException ? Problem.invalid("file", message) : null;
  }
}
