package org.equiphase.measurement;

import java.util.stream.Collectors;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;

/**
 * The file itself will never do, however often it is sent. Answered with 422, so that a program can
 * tell it from a request that only lacks something.
 */
class FileRefusedException extends RuntimeException {

  FileRefusedException(String message) {
    super(message);
  }

  FileRefusedException(RuntimeException cause) {
    super(
        cause instanceof InvalidInputException invalid
            ? text(invalid)
            : String.valueOf(cause.getMessage()),
        cause);
  }

  /** What is wrong, without the field where that is the file. */
  static String text(InvalidInputException exception) {
    return exception.problems().stream()
        .map(FileRefusedException::text)
        .collect(Collectors.joining("; "));
  }

  private static String text(FieldProblem problem) {
    return problem.field().equals("file")
        ? problem.message()
        : problem.field() + ": " + problem.message();
  }
}
