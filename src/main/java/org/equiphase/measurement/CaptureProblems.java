package org.equiphase.measurement;

import org.equiphase.measurement.scpi.ScpiException;
import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;

/** An instrument's failure is neither the sender's fault nor ours: 504 for silence, else 502. */
@Component
class CaptureProblems implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (!(exception instanceof ScpiException)) {
      return null;
    }
    String message = String.valueOf(exception.getMessage());
    return exception instanceof ScpiException.NoAnswer
        ? Problem.of(HttpStatus.GATEWAY_TIMEOUT, "The instrument does not answer", message)
        : Problem.of(HttpStatus.BAD_GATEWAY, "The instrument could not be read", message);
  }
}
