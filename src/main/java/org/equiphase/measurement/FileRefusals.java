package org.equiphase.measurement;

import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;

@Component
class FileRefusals implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    return exception instanceof FileRefusedException refused
        ? Problem.of(
            HttpStatus.UNPROCESSABLE_CONTENT, Sentence.of("files.refusedTitle"), refused.words())
        : null;
  }
}
