package org.equiphase.calculator;

import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.equiphase.web.Checks;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.jspecify.annotations.Nullable;
import org.springframework.web.multipart.MultipartFile;

/**
 * What was typed on a page. What can't be read is noted, read as null, and said all at once by
 * {@link #done}.
 */
final class Typed {

  private final Map<String, String> texts;
  private final @Nullable MultipartFile file;
  private final Checks checks = new Checks();

  Typed(Map<String, String> texts, @Nullable MultipartFile file) {
    this.texts = Map.copyOf(texts);
    this.file = file;
  }

  /** As it was typed; empty where nothing was. */
  public String text(String name) {
    return texts.getOrDefault(name, "");
  }

  @Nullable Double number(String name) {
    return part(() -> Numbers.read(name, text(name)));
  }

  /** A number in another unit than the field's, such as Hz from MHz. */
  @Nullable Double number(String name, double factor) {
    Double value = number(name);
    return value == null ? null : value * factor;
  }

  @Nullable Double optional(String name) {
    return part(() -> Numbers.readOptional(name, text(name)));
  }

  @Nullable Double optional(String name, double factor) {
    Double value = optional(name);
    return value == null ? null : value * factor;
  }

  @Nullable Integer whole(String name) {
    Double value = number(name);
    return value == null ? null : part(() -> whole(name, value));
  }

  @Nullable Integer optionalWhole(String name) {
    return text(name).isBlank() ? null : whole(name);
  }

  private static int whole(String name, double value) {
    if (value != Math.rint(value) || Math.abs(value) > Integer.MAX_VALUE) {
      throw InvalidInputException.of(name, "must be a whole number");
    }
    return (int) value;
  }

  <E extends Enum<E>> @Nullable E choice(String name, Class<E> type) {
    return part(() -> choice(name, text(name), type));
  }

  private static <E extends Enum<E>> E choice(String field, String typed, Class<E> type) {
    for (E value : type.getEnumConstants()) {
      if (value.name().equalsIgnoreCase(typed)) {
        return value;
      }
    }
    throw InvalidInputException.of(
        field,
        (typed.isEmpty() ? "is missing" : "is \"" + typed + "\"")
            + "; choose one of "
            + Arrays.stream(type.getEnumConstants())
                .map(Enum::name)
                .collect(Collectors.joining(", ")));
  }

  /** The file, or null, noted, where none was chosen. */
  @Nullable MultipartFile file(String name) {
    if (file == null || file.isEmpty()) {
      checks.problem(name, "is missing or empty; choose a file");
      return null;
    }
    return file;
  }

  /** The lines of a text area that are not blank; none at all is noted. */
  List<Row> rows(String name) {
    List<Row> rows = new ArrayList<>();
    int line = 0;
    for (String text : text(name).lines().toList()) {
      line++;
      if (!text.isBlank()) {
        rows.add(new Row(name, line, text.split(text.contains("\t") ? "\t" : ";", -1)));
      }
    }
    if (rows.isEmpty()) {
      checks.problem(name, "is missing; type at least one line");
    }
    return rows;
  }

  /** One number per line. */
  double[] column(String name) {
    return rows(name).stream()
        .mapToDouble(
            row -> {
              row.atMost(1);
              Double value = row.number(0, "value");
              return value == null ? 0 : value;
            })
        .toArray();
  }

  /** Says everything that could not be read. */
  void done() {
    checks.done();
  }

  private <T> @Nullable T part(Supplier<@Nullable T> reading) {
    try {
      return reading.get();
    } catch (InvalidInputException e) {
      e.problems().forEach(p -> checks.problem(p.field(), p.message()));
      return null;
    }
  }

  /** A line of a text area. Cells count from 0. */
  final class Row {

    private final String field;
    private final int line;
    private final String[] cells;

    private Row(String field, int line, String[] cells) {
      this.field = field;
      this.line = line;
      this.cells = cells;
    }

    int line() {
      return line;
    }

    String text(int cell) {
      return cell < cells.length ? cells[cell].strip() : "";
    }

    @Nullable Double number(int cell, String what) {
      return located(what, () -> Numbers.read(field, text(cell)));
    }

    @Nullable Double number(int cell, String what, double factor) {
      Double value = number(cell, what);
      return value == null ? null : value * factor;
    }

    @Nullable Double optional(int cell, String what) {
      return located(what, () -> Numbers.readOptional(field, text(cell)));
    }

    /** A word of a choice, in capitals or not. */
    <E extends Enum<E>> @Nullable E choice(int cell, String what, Class<E> type) {
      return located(what, () -> Typed.choice(field, text(cell), type));
    }

    /** A time as 2026-03-02 08:00, in the zone of the service. */
    @Nullable Instant time(int cell, String what) {
      return located(what, () -> time(field, text(cell)));
    }

    private static Instant time(String field, String typed) {
      try {
        return LocalDateTime.parse(typed.replace(' ', 'T'))
            .atZone(ZoneId.systemDefault())
            .toInstant();
      } catch (DateTimeParseException e) {
        throw InvalidInputException.of(
            field, "\"" + typed + "\" is no time; write 2026-12-31 08:00");
      }
    }

    /** Numbers in cells that follow each other. */
    List<@Nullable Double> numbers(int from, int count, String what) {
      List<@Nullable Double> numbers = new ArrayList<>();
      for (int k = 0; k < count; k++) {
        numbers.add(number(from + k, count == 1 ? what : what + " " + (k + 1)));
      }
      return numbers;
    }

    /** The numbers from a cell to the end of the line, at least one. */
    double[] rest(int from, String what) {
      return numbers(from, Math.max(1, cells.length - from), what).stream()
          .mapToDouble(value -> value == null ? 0 : value)
          .toArray();
    }

    /** Notes that the line has more cells than are read. */
    void atMost(int count) {
      if (cells.length > count) {
        checks.problem(
            field, "line " + line + ": has " + cells.length + " cells; at most " + count);
      }
    }

    private <T> @Nullable T located(String what, Supplier<@Nullable T> reading) {
      try {
        return reading.get();
      } catch (InvalidInputException e) {
        e.problems()
            .forEach(p -> checks.problem(field, "line " + line + ", " + what + ": " + p.message()));
        return null;
      }
    }
  }
}
