package org.equiphase.sheet;

import java.time.Instant;
import java.util.function.Function;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A column of a table of data; the unit of its numbers stands in its name and in its head.
 *
 * @param name for programs, as in {@code cut_error_mm}
 * @param head for people
 * @param widthMm its width in a workbook
 * @param value of a row; null for an empty cell
 * @param <R> what a row is made from
 */
public record Column<R>(
    String name, Sentence head, double widthMm, Kind kind, Function<R, @Nullable Object> value) {

  enum Kind {
    TEXT,
    NUMBER,
    TIME
  }

  /**
   * Text: what people wrote, or a {@link Sentence}, said in the reader's language, and in English
   * in a text file.
   */
  public static <R> Column<R> text(
      String name, Sentence head, double widthMm, Function<R, @Nullable Object> value) {
    return new Column<>(name, head, widthMm, Kind.TEXT, value);
  }

  /** Numbers in full, unrounded, with a decimal point in every language. */
  public static <R> Column<R> number(
      String name, Sentence head, double widthMm, Function<R, ? extends @Nullable Number> value) {
    return new Column<>(name, head, widthMm, Kind.NUMBER, value::apply);
  }

  /** Times: UTC in a text file (ISO 8601), the zone of the service in a workbook. */
  public static <R> Column<R> time(
      String name, Sentence head, double widthMm, Function<R, @Nullable Instant> value) {
    return new Column<>(name, head, widthMm, Kind.TIME, value::apply);
  }
}
