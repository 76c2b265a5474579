package org.equiphase.web;

import java.util.List;
import java.util.stream.Collectors;

/** The request's fields are bad; answered with 400 and the list of fields. */
public class InvalidInputException extends RuntimeException {

  private final List<FieldProblem> problems;

  /**
   * @param problems what is wrong, at least one
   */
  public InvalidInputException(List<FieldProblem> problems) {
    super(
        problems.stream()
            .map(problem -> problem.field() + ": " + problem.message())
            .collect(Collectors.joining("; ")));
    this.problems = List.copyOf(problems);
  }

  /** One bad field. */
  public static InvalidInputException of(String field, String message) {
    return new InvalidInputException(List.of(new FieldProblem(field, message)));
  }

  public List<FieldProblem> problems() {
    return problems;
  }
}
