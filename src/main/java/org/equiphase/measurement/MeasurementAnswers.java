package org.equiphase.measurement;

import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.rf.touchstone.TouchstoneException;
import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** A quantity out of range or a file that can't be read is the caller's fault: 400. */
@Component
class MeasurementAnswers implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (exception instanceof InvalidQuantityException invalid) {
      return Problem.invalid(invalid.field(), String.valueOf(invalid.getMessage()));
    }
    if (exception instanceof TouchstoneException unreadable) {
      return Problem.invalid("file", String.valueOf(unreadable.getMessage()));
    }
    return null;
  }
}
