package org.equiphase.web;

import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.http.converter.HttpMessageNotReadableException;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.TokenStreamLocation;
import tools.jackson.core.exc.StreamReadException;
import tools.jackson.databind.exc.InvalidFormatException;
import tools.jackson.databind.exc.InvalidNullException;
import tools.jackson.databind.exc.MismatchedInputException;
import tools.jackson.databind.exc.UnrecognizedPropertyException;

/** Says which field of a JSON body is bad, and why. */
final class JsonProblems {

  private JsonProblems() {}

  static Problem of(HttpMessageNotReadableException exception) {
    if (exception.getCause() instanceof InvalidInputException invalid) {
      return Problem.invalid(invalid.problems());
    }
    if (!(exception.getCause() instanceof JacksonException json)) {
      return Problem.of(
          HttpStatus.BAD_REQUEST,
          Sentence.of("problem.invalidInput"),
          Sentence.said("The request needs a body in JSON."));
    }
    String field = path(json);
    if (json instanceof StreamReadException malformed) {
      TokenStreamLocation at = malformed.getLocation();
      String where =
          at == null ? "" : " at line " + at.getLineNr() + ", column " + at.getColumnNr();
      String what = "is not valid JSON" + where + ": " + json.getOriginalMessage();
      String place = place(malformed);
      return Problem.invalid(place.isEmpty() ? "body" : place, Sentence.said(what));
    }
    return Problem.invalid(field.isEmpty() ? "body" : field, message(json));
  }

  /** Only programs send JSON, so most of this is in English whoever reads. */
  private static Sentence message(JacksonException json) {
    if (json instanceof UnrecognizedPropertyException unknown) {
      String known =
          Objects.requireNonNullElse(unknown.getKnownPropertyIds(), List.of()).stream()
              .map(String::valueOf)
              .sorted()
              .collect(Collectors.joining(", "));
      return Sentence.said(
          "is not a known field" + (known.isEmpty() ? "" : "; known are " + known));
    }
    if (json instanceof InvalidFormatException format) {
      return expectation(format.getValue(), format.getTargetType());
    }
    if (json instanceof InvalidNullException) {
      return Sentence.of("problem.missing");
    }
    if (json instanceof MismatchedInputException mismatch) {
      String original = Objects.requireNonNullElse(json.getOriginalMessage(), "");
      if (original.contains("null")) {
        return Sentence.of("problem.missing");
      }
      Class<?> type = mismatch.getTargetType();
      return Sentence.said(
          type == null ? "does not have the expected type" : "must be " + expected(type));
    }
    if (json.getCause() instanceof InvalidInputException invalid) {
      return InvalidInputException.words(invalid.problems());
    }
    if (json.getCause() instanceof IllegalArgumentException illegal
        && illegal.getMessage() != null) {
      return Sentence.said(illegal.getMessage());
    }
    return Sentence.said("could not be read");
  }

  /** What is wrong with a value, and what would do. */
  static Sentence expectation(@Nullable Object value, Class<?> type) {
    return Sentence.of("problem.isNot", String.valueOf(value), expected(type));
  }

  private static Sentence expected(Class<?> type) {
    if (type.isEnum()) {
      return Sentence.of(
          "problem.oneOf",
          Arrays.stream(type.getEnumConstants())
              .map(constant -> ((Enum<?>) constant).name())
              .collect(Collectors.joining(", ")));
    }
    if (type == boolean.class || type == Boolean.class) {
      return Sentence.of("problem.trueOrFalse");
    }
    if (type == int.class || type == Integer.class || type == long.class || type == Long.class) {
      return Sentence.of("problem.wholeNumber");
    }
    if (type == double.class || Number.class.isAssignableFrom(type)) {
      return Sentence.of("problem.number");
    }
    if (type.isArray() || Iterable.class.isAssignableFrom(type)) {
      return Sentence.of("problem.list");
    }
    if (CharSequence.class.isAssignableFrom(type)) {
      return Sentence.of("problem.text");
    }
    if (java.time.temporal.Temporal.class.isAssignableFrom(type)) {
      return Sentence.of("problem.time");
    }
    return Sentence.of("problem.object");
  }

  /** Where the parser stood; it has no path of objects yet. */
  private static String place(StreamReadException malformed) {
    JsonParser parser = malformed.processor();
    if (parser == null) {
      return "";
    }
    return parser
        .streamReadContext()
        .pathAsPointer()
        .toString()
        .replaceAll("/(\\d+)(?=/|$)", "[$1]")
        .replace('/', '.')
        .replaceFirst("^\\.", "");
  }

  private static String path(JacksonException exception) {
    StringBuilder path = new StringBuilder();
    for (JacksonException.Reference step : exception.getPath()) {
      if (step.getPropertyName() == null) {
        path.append('[').append(step.getIndex()).append(']');
      } else {
        path.append(path.isEmpty() ? "" : ".").append(step.getPropertyName());
      }
    }
    return path.toString();
  }
}
