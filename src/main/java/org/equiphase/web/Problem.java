package org.equiphase.web;

import com.fasterxml.jackson.annotation.JsonIgnore;
import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.JsonPropertyOrder;
import java.util.List;
import java.util.Map;
import org.springframework.http.HttpStatus;

/**
 * An error answer: the JSON members of RFC 9457, and what the error page shows.
 *
 * @param httpStatus the answer's status
 * @param title the kind of problem
 * @param detail what is wrong this time, and what would do
 * @param errors the bad fields, empty where no field is to blame
 * @param headers response headers that belong to the answer, e.g. Retry-After
 */
@JsonPropertyOrder({"title", "status", "detail", "errors"})
public record Problem(
    @JsonIgnore HttpStatus httpStatus,
    Sentence title,
    Sentence detail,
    @JsonInclude(JsonInclude.Include.NON_EMPTY) List<FieldProblem> errors,
    @JsonIgnore Map<String, String> headers) {

  public Problem {
    errors = List.copyOf(errors);
    headers = Map.copyOf(headers);
  }

  /** A problem with no field to blame. */
  public static Problem of(HttpStatus status, Sentence title, Sentence detail) {
    return new Problem(status, title, detail, List.of(), Map.of());
  }

  /** 400 with one bad field. */
  public static Problem invalid(String field, Sentence message) {
    return invalid(List.of(new FieldProblem(field, message)));
  }

  /** 400 with bad fields. */
  public static Problem invalid(List<FieldProblem> errors) {
    return new Problem(
        HttpStatus.BAD_REQUEST,
        Sentence.of("problem.invalidInput"),
        InvalidInputException.words(errors),
        errors,
        Map.of());
  }

  /** 503 with the time after which to try again. */
  public static Problem busy() {
    return later(Sentence.of("problem.busy"), Sentence.of("problem.busyDetail"));
  }

  /** The database went away in the middle; the commit may or may not have reached it. */
  static Problem databaseAway() {
    return later(Sentence.of("problem.databaseAway"), Sentence.of("problem.databaseAwayDetail"));
  }

  private static Problem later(Sentence title, Sentence detail) {
    return new Problem(
        HttpStatus.SERVICE_UNAVAILABLE, title, detail, List.of(), Map.of("Retry-After", "1"));
  }

  /** The status code, as in the JSON. */
  public int getStatus() {
    return httpStatus.value();
  }
}
