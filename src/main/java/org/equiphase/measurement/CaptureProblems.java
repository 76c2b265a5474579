package org.equiphase.measurement;

import java.util.Locale;
import org.equiphase.measurement.scpi.ScpiException;
import org.equiphase.web.Problem;
import org.equiphase.web.ProblemTranslator;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/** An instrument's failure is neither the sender's fault nor ours: 504 for silence, else 502. */
@Component
class CaptureProblems implements ProblemTranslator {

  @Override
  public @Nullable Problem translate(Exception exception) {
    if (!(exception instanceof ScpiException failure)) {
      return null;
    }
    Locale language = language();
    boolean silent = failure instanceof ScpiException.NoAnswer;
    return Problem.of(
        silent ? HttpStatus.GATEWAY_TIMEOUT : HttpStatus.BAD_GATEWAY,
        Sentence.of(silent ? "capture.noAnswer.title" : "capture.failed.title").in(language),
        failure.in(language));
  }

  /** Programs are answered in the language of records. */
  private static Locale language() {
    boolean page =
        RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes attributes
            && !attributes.getRequest().getServletPath().startsWith("/api/");
    return page ? LocaleContextHolder.getLocale() : Sentence.RECORD_LANGUAGE;
  }
}
