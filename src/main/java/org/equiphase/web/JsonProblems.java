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
          HttpStatus.BAD_REQUEST, "Invalid input", "The request needs a body in JSON.");
    }
    String field = path(json);
    if (json instanceof StreamReadException malformed) {
      TokenStreamLocation at = malformed.getLocation();
      String where =
          at == null ? "" : " at line " + at.getLineNr() + ", column " + at.getColumnNr();
      String what = "is not valid JSON" + where + ": " + json.getOriginalMessage();
      String place = place(malformed);
      return Problem.invalid(place.isEmpty() ? "body" : place, what);
    }
    return Problem.invalid(field.isEmpty() ? "body" : field, message(json));
  }

  private static String message(JacksonException json) {
    if (json instanceof UnrecognizedPropertyException unknown) {
      String known =
          Objects.requireNonNullElse(unknown.getKnownPropertyIds(), List.of()).stream()
              .map(String::valueOf)
              .sorted()
              .collect(Collectors.joining(", "));
      return "is not a known field" + (known.isEmpty() ? "" : "; known are " + known);
    }
    if (json instanceof InvalidFormatException format) {
      return expectation(format.getValue(), format.getTargetType());
    }
    if (json instanceof InvalidNullException) {
      return "is missing";
    }
    if (json instanceof MismatchedInputException mismatch) {
      String original = Objects.requireNonNullElse(json.getOriginalMessage(), "");
      if (original.contains("null")) {
        return "is missing";
      }
      Class<?> type = mismatch.getTargetType();
      return type == null ? "does not have the expected type" : "must be " + expected(type);
    }
    if (json.getCause() instanceof InvalidInputException invalid) {
      return String.valueOf(invalid.getMessage());
    }
    if (json.getCause() instanceof IllegalArgumentException illegal
        && illegal.getMessage() != null) {
      return illegal.getMessage();
    }
    return "could not be read";
  }

  /** What is wrong with a value, and what would do. */
  static String expectation(@Nullable Object value, Class<?> type) {
    return "\"" + value + "\" is not " + expected(type);
  }

  private static String expected(Class<?> type) {
    if (type.isEnum()) {
      return "one of "
          + Arrays.stream(type.getEnumConstants())
              .map(constant -> ((Enum<?>) constant).name())
              .collect(Collectors.joining(", "));
    }
    if (type == boolean.class || type == Boolean.class) {
      return "true or false";
    }
    if (type == int.class || type == Integer.class || type == long.class || type == Long.class) {
      return "a whole number";
    }
    if (type == double.class || Number.class.isAssignableFrom(type)) {
      return "a number";
    }
    if (type.isArray() || Iterable.class.isAssignableFrom(type)) {
      return "a list";
    }
    if (CharSequence.class.isAssignableFrom(type)) {
      return "a text";
    }
    if (java.time.temporal.Temporal.class.isAssignableFrom(type)) {
      return "a date or time as in ISO 8601";
    }
    return "an object";
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
