package org.equiphase.catalog;

import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.web.Digits;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/** What is wrong with a draft, field by field; the first message about a field stands. */
final class DraftProblems {
  private static final int MAX_POINTS = 150;

  private final Map<String, Sentence> messageByField = new LinkedHashMap<>();

  void add(String field, Sentence message) {
    messageByField.putIfAbsent(field, message);
  }

  /**
   * Says that a value is missing and answers the stand-in, so that the other fields get checked
   * too.
   *
   * @param whatWouldDo key of the message that says it
   */
  <T> T required(String field, @Nullable T value, T standIn, String whatWouldDo) {
    if (value != null) {
      return value;
    }
    add(field, Sentence.of("catalog.missing", Sentence.of(whatWouldDo)));
    return standIn;
  }

  /** A missing number becomes NaN, which no range accepts. */
  double number(String field, @Nullable Double value) {
    return required(field, value, Double.NaN, "catalog.giveNumber");
  }

  String text(String field, @Nullable String value) {
    return required(field, value, "", "catalog.giveText");
  }

  LocalDate day(String field, @Nullable LocalDate value) {
    return required(field, value, LocalDate.EPOCH, "catalog.giveDay");
  }

  int version(@Nullable Integer value) {
    return required("version", value, 0, "catalog.giveVersion");
  }

  void range(String field, double value, double min, double max, String unit) {
    Sentence wanted = Sentence.of("catalog.giveRange", digits(min), digits(max), unitAfter(unit));
    if (Double.isNaN(value)) {
      add(field, Sentence.of("catalog.notANumber", wanted));
    } else if (value < min || value > max) {
      add(field, Sentence.of("catalog.outOfRange", digits(value), unitAfter(unit), wanted));
    }
  }

  void above(String field, double value, double limit, double max, String unit) {
    Sentence wanted = Sentence.of("catalog.giveAbove", digits(limit), digits(max), unitAfter(unit));
    if (Double.isNaN(value)) {
      add(field, Sentence.of("catalog.notANumber", wanted));
    } else if (value <= limit || value > max) {
      add(field, Sentence.of("catalog.outOfRange", digits(value), unitAfter(unit), wanted));
    }
  }

  void checkDay(String field, LocalDate value) {
    if (value.getYear() < 2000 || value.getYear() > 2100) {
      add(field, Sentence.of("catalog.dayOutOfRange", value.toString()));
    }
  }

  /** A table has no points (not used) or enough of them for lines between points. */
  void pointCount(String field, int count) {
    if (count == 1 || count > MAX_POINTS) {
      add(field, Sentence.of("catalog.pointCount", count, MAX_POINTS));
    }
  }

  /** Says where a point of a table is missing or out of range; {@code what} is a message's key. */
  void point(
      String field, int index, String what, double value, double min, double max, String unit) {
    if (!(value >= min && value <= max)) {
      add(
          field,
          Sentence.of(
              Double.isNaN(value) ? "catalog.pointMissing" : "catalog.pointOutOfRange",
              index + 1,
              Sentence.of(what),
              digits(min),
              digits(max),
              unit,
              digits(value)));
    }
  }

  void line(String field, String value, int maxLength) {
    if (value.isEmpty()) {
      add(field, Sentence.of("catalog.blank", maxLength));
    } else if (value.chars().anyMatch(Character::isISOControl)) {
      add(field, Sentence.of("catalog.oneLine"));
    }
    length(field, value, maxLength);
  }

  void note(String value, int maxLength) {
    if (value.chars().anyMatch(c -> Character.isISOControl(c) && !Character.isWhitespace(c))) {
      add("note", Sentence.of("catalog.plainText"));
    }
    length("note", value, maxLength);
  }

  private void length(String field, String value, int maxLength) {
    if (value.length() > maxLength) {
      add(field, Sentence.of("catalog.tooLong", value.length(), maxLength));
    }
  }

  boolean isEmpty() {
    return messageByField.isEmpty();
  }

  Map<String, Sentence> messageByField() {
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

  static Sentence noSuch(String noun, long id) {
    return Sentence.of("catalog.noSuch", NotFoundException.kind(noun), id);
  }

  private static Digits digits(double value) {
    return NumberText.digits(value);
  }

  static <T> String joined(List<T> items, Function<T, String> text) {
    return items.stream().map(text).collect(Collectors.joining("; "));
  }

  private static String unitAfter(String unit) {
    return unit.isEmpty() ? "" : " " + unit;
  }
}
