package org.equiphase.measurement;

import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;

/**
 * The file itself will never do, however often it is sent. Answered with 422, so that a program can
 * tell it from a request that only lacks something.
 */
class FileRefusedException extends RuntimeException {

  private final Sentence words;

  FileRefusedException(Sentence words) {
    super(words.toString());
    this.words = words;
  }

  FileRefusedException(RuntimeException cause) {
    this(
        cause instanceof InvalidInputException invalid
            ? words(invalid)
            : Sentence.said(String.valueOf(cause.getMessage())));
    initCause(cause);
  }

  Sentence words() {
    return words;
  }

  /** What is wrong, without the field where that is the file. */
  static Sentence words(InvalidInputException exception) {
    return exception.problems().stream()
        .map(FileRefusedException::words)
        .reduce((one, next) -> Sentence.of("problem.and", one, next))
        .orElseThrow();
  }

  private static Sentence words(FieldProblem problem) {
    return problem.field().equals("file")
        ? problem.message()
        : Sentence.of("problem.field", problem.field(), problem.message());
  }
}
