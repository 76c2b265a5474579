package org.equiphase.adjustment;

import org.equiphase.matching.InvalidProblemException;
import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** A matching problem with bad fields is the caller's fault: 400, with the field. */
@Component
class ProblemAnswers implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    return exception instanceof InvalidProblemException invalid
        ? Problem.invalid(invalid.field(), String.valueOf(invalid.getMessage()))
        : null;
  }
}
