package org.equiphase.web;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The request's fields are bad; answered with 400 and the list of fields. */
public class InvalidInputException extends RuntimeException {

  private final List<FieldProblem> problems;

  /**
   * @param problems what is wrong, at least one
   */
  public InvalidInputException(List<FieldProblem> problems) {
    super(words(problems).toString());
    this.problems = List.copyOf(problems);
  }

  /** One bad field. */
  public static InvalidInputException of(String field, Sentence message) {
    return new InvalidInputException(List.of(new FieldProblem(field, message)));
  }

  /** One bad field, with a message that is text already. */
  public static InvalidInputException of(String field, String message) {
    return of(field, Sentence.said(message));
  }

  public List<FieldProblem> problems() {
    return problems;
  }

  /** By field, as a form shows it; what is wrong with one field is one sentence. */
  public Map<String, Sentence> byField() {
    Map<String, Sentence> messages = new LinkedHashMap<>();
    problems.forEach(
        problem ->
            messages.merge(
                problem.field(),
                problem.message(),
                (one, next) -> Sentence.of("problem.and", one, next)));
    return messages;
  }

  /** All of it in one sentence. */
  static Sentence words(List<FieldProblem> problems) {
    return problems.stream()
        .map(FieldProblem::words)
        .reduce((one, next) -> Sentence.of("problem.and", one, next))
        .orElseGet(() -> Sentence.said(""));
  }
}
