package org.equiphase.measurement;

import java.io.Serializable;
import org.equiphase.measurement.scpi.ScpiException;
import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;

/** An instrument's failure is neither the sender's fault nor ours: 504 for silence, else 502. */
@Component
class CaptureProblems implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (!(exception instanceof ScpiException failure)) {
      return null;
    }
    boolean silent = failure instanceof ScpiException.NoAnswer;
    return Problem.of(
        silent ? HttpStatus.GATEWAY_TIMEOUT : HttpStatus.BAD_GATEWAY,
        Sentence.of(silent ? "capture.noAnswer.title" : "capture.failed.title"),
        Sentence.of(failure.key(), (Serializable[]) failure.values()));
  }
}
