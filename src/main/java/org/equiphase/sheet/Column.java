package org.equiphase.sheet;

import java.time.Instant;
import java.util.function.Function;
import org.equiphase.sheet.Book.Look;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A column of a table of data; the unit of its numbers stands in its name and in its head.
 *
 * @param name for programs, as in {@code cut_error_mm}
 * @param head for people
 * @param widthMm its width in a workbook
 * @param look TEXT, TIME, or how its numbers are shown in a workbook
 * @param value of a row; null for an empty cell
 * @param <R> what a row is made from
 */
public record Column<R>(
    String name, Sentence head, double widthMm, Look look, Function<R, @Nullable Object> value) {

  /**
   * Text: what people wrote, or a {@link Sentence}, said in the reader's language, and in English
   * in a text file.
   */
  public static <R> Column<R> text(
      String name, Sentence head, double widthMm, Function<R, @Nullable Object> value) {
    return new Column<>(name, head, widthMm, Look.TEXT, value);
  }

  /** Numbers in full, unrounded, with a decimal point in every language. */
  public static <R> Column<R> number(
      String name, Sentence head, double widthMm, Function<R, ? extends @Nullable Number> value) {
    return number(name, head, widthMm, Look.QUANTITY, value);
  }

  /** The same, shown in a workbook with fewer decimals than are there. */
  public static <R> Column<R> number(
      String name,
      Sentence head,
      double widthMm,
      Look look,
      Function<R, ? extends @Nullable Number> value) {
    return new Column<>(name, head, widthMm, look, value::apply);
  }

  /** Times: UTC in a text file (ISO 8601), the zone of the service in a workbook. */
  public static <R> Column<R> time(
      String name, Sentence head, double widthMm, Function<R, @Nullable Instant> value) {
    return new Column<>(name, head, widthMm, Look.TIME, value::apply);
  }
}
