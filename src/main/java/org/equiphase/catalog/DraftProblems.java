package org.equiphase.catalog;

import static org.equiphase.catalog.NumberText.plain;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;

/** What is wrong with a draft, field by field; the first message about a field stands. */
final class DraftProblems {
  private static final int MAX_POINTS = 150;

  private final Map<String, String> messageByField = new LinkedHashMap<>();

  void add(String field, String message) {
    messageByField.putIfAbsent(field, message);
  }

  /**
   * Says that a value is missing and answers the stand-in, so that the other fields get checked
   * too.
   */
  <T> T required(String field, @Nullable T value, T standIn, String whatWouldDo) {
    if (value != null) {
      return value;
    }
    add(field, "is missing; " + whatWouldDo);
    return standIn;
  }

  /** A missing number becomes NaN, which no range accepts. */
  double number(String field, @Nullable Double value) {
    return required(field, value, Double.NaN, "give a number");
  }

  String text(String field, @Nullable String value) {
    return required(field, value, "", "give a text");
  }

  LocalDate day(String field, @Nullable LocalDate value) {
    return required(field, value, LocalDate.EPOCH, "give a day such as 2027-03-31");
  }

  int version(@Nullable Integer value) {
    return required("version", value, 0, "give the version that was read");
  }

  void range(String field, double value, double min, double max, String unit) {
    String wanted = "give " + plain(min) + " to " + plain(max) + unitAfter(unit);
    if (Double.isNaN(value)) {
      add(field, "is not a number; " + wanted);
    } else if (value < min || value > max) {
      add(field, plain(value) + unitAfter(unit) + " is out of range; " + wanted);
    }
  }

  void above(String field, double value, double limit, double max, String unit) {
    String wanted =
        "give more than " + plain(limit) + " and at most " + plain(max) + unitAfter(unit);
    if (Double.isNaN(value)) {
      add(field, "is not a number; " + wanted);
    } else if (value <= limit || value > max) {
      add(field, plain(value) + unitAfter(unit) + " is out of range; " + wanted);
    }
  }

  void checkDay(String field, LocalDate value) {
    if (value.getYear() < 2000 || value.getYear() > 2100) {
      add(field, value + " is out of range; give a day from 2000-01-01 to 2100-12-31");
    }
  }

  /** A table has no points (not used) or enough of them for lines between points. */
  void pointCount(String field, int count) {
    if (count == 1 || count > MAX_POINTS) {
      add(field, "has %d points; give 2 to %d, or none at all".formatted(count, MAX_POINTS));
    }
  }

  void point(
      String field, int index, String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      add(
          field,
          "point %d: the %s %s; give %s to %s %s"
              .formatted(
                  index + 1,
                  what,
                  Double.isNaN(value)
                      ? "is missing"
                      : plain(value) + " " + unit + " is out of range",
                  plain(min),
                  plain(max),
                  unit));
    }
  }

  void line(String field, String value, int maxLength) {
    if (value.isEmpty()) {
      add(field, "is blank; give a text of at most " + maxLength + " characters");
    } else if (value.chars().anyMatch(Character::isISOControl)) {
      add(field, "has a line break or another control character; give one line of text");
    }
    length(field, value, maxLength);
  }

  void note(String value, int maxLength) {
    if (value.chars().anyMatch(c -> Character.isISOControl(c) && !Character.isWhitespace(c))) {
      add("note", "has a control character; give plain text");
    }
    length("note", value, maxLength);
  }

  private void length(String field, String value, int maxLength) {
    if (value.length() > maxLength) {
      add(field, "has " + value.length() + " characters; at most " + maxLength + " fit");
    }
  }

  boolean isEmpty() {
    return messageByField.isEmpty();
  }

  Map<String, String> messageByField() {
    return messageByField;
  }

  void throwIfAny() {
    if (!isEmpty()) {
      throw new InvalidInputException(
          messageByField.entrySet().stream()
              .map(e -> new FieldProblem(e.getKey(), e.getValue()))
              .toList());
    }
  }

  static String noSuch(String noun, long id) {
    return "there is no %s %d; give one from the catalog".formatted(noun, id);
  }

  static <T> String joined(List<T> items, Function<T, String> text) {
    return items.stream().map(text).collect(Collectors.joining("; "));
  }

  private static String unitAfter(String unit) {
    return unit.isEmpty() ? "" : " " + unit;
  }
}
