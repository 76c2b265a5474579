package org.equiphase.calculator;

import java.io.Serializable;
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
import org.equiphase.web.Sentence;
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
    return checks.part(() -> Numbers.read(name, text(name)));
  }

  /** A number in another unit than the field's, such as Hz from MHz. */
  @Nullable Double number(String name, double factor) {
    Double value = number(name);
    return value == null ? null : value * factor;
  }

  @Nullable Double optional(String name) {
    return checks.part(() -> Numbers.readOptional(name, text(name)));
  }

  @Nullable Double optional(String name, double factor) {
    Double value = optional(name);
    return value == null ? null : value * factor;
  }

  @Nullable Integer whole(String name) {
    Double value = number(name);
    return value == null ? null : checks.part(() -> whole(name, value));
  }

  @Nullable Integer optionalWhole(String name) {
    return text(name).isBlank() ? null : whole(name);
  }

  private static int whole(String name, double value) {
    if (value != Math.rint(value) || Math.abs(value) > Integer.MAX_VALUE) {
      throw refusal(name, "calculator.notWhole");
    }
    return (int) value;
  }

  <E extends Enum<E>> @Nullable E choice(String name, Class<E> type) {
    return checks.part(() -> choice(name, text(name), type));
  }

  private static <E extends Enum<E>> E choice(String field, String typed, Class<E> type) {
    for (E value : type.getEnumConstants()) {
      if (value.name().equalsIgnoreCase(typed)) {
        return value;
      }
    }
    String choices =
        Arrays.stream(type.getEnumConstants()).map(Enum::name).collect(Collectors.joining(", "));
    throw typed.isEmpty()
        ? refusal(field, "calculator.nothingChosen", choices)
        : refusal(field, "calculator.noChoice", typed, choices);
  }

  /** The file, or null, noted, where none was chosen. */
  @Nullable MultipartFile file(String name) {
    if (file == null || file.isEmpty()) {
      note(name, "calculator.noFile");
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
      note(name, "calculator.noLine");
    }
    return rows;
  }

  /** One number per line. */
  double[] column(String name) {
    return rows(name).stream()
        .mapToDouble(
            row -> {
              row.atMost(1);
              Double value = row.number(0, "calculator.cell.value");
              return value == null ? 0 : value;
            })
        .toArray();
  }

  /** Says everything that could not be read. */
  void done() {
    checks.done();
  }

  private void note(String field, String key, Serializable... values) {
    checks.problem(field, Sentence.of(key, values));
  }

  private static InvalidInputException refusal(String field, String key, Serializable... values) {
    return InvalidInputException.of(field, Sentence.of(key, values));
  }

  /** A line of a text area. Cells count from 0; what they hold is said by its key. */
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
      return located(Sentence.of(what), () -> Numbers.read(field, text(cell)));
    }

    @Nullable Double number(int cell, String what, double factor) {
      Double value = number(cell, what);
      return value == null ? null : value * factor;
    }

    @Nullable Double optional(int cell, String what) {
      return located(Sentence.of(what), () -> Numbers.readOptional(field, text(cell)));
    }

    /** A word of a choice, in capitals or not. */
    <E extends Enum<E>> @Nullable E choice(int cell, String what, Class<E> type) {
      return located(Sentence.of(what), () -> Typed.choice(field, text(cell), type));
    }

    /** A time as 2026-03-02 08:00, in the zone of the service. */
    @Nullable Instant time(int cell, String what) {
      return located(Sentence.of(what), () -> time(field, text(cell)));
    }

    private static Instant time(String field, String typed) {
      try {
        return LocalDateTime.parse(typed.replace(' ', 'T'))
            .atZone(ZoneId.systemDefault())
            .toInstant();
      } catch (DateTimeParseException e) {
        throw refusal(field, "calculator.noTime", typed);
      }
    }

    /** Numbers in cells that follow each other. */
    List<@Nullable Double> numbers(int from, int count, String what) {
      List<@Nullable Double> numbers = new ArrayList<>();
      for (int k = 0; k < count; k++) {
        int cell = from + k;
        Sentence one = Sentence.of(what);
        Sentence called = count == 1 ? one : Sentence.of("calculator.cellNumbered", one, k + 1);
        numbers.add(located(called, () -> Numbers.read(field, text(cell))));
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
            field,
            Sentence.of(
                "problem.field",
                Sentence.of("calculator.line", line),
                Sentence.of("calculator.tooManyCells", cells.length, count)));
      }
    }

    private <T> @Nullable T located(Sentence what, Supplier<@Nullable T> reading) {
      try {
        return reading.get();
      } catch (InvalidInputException e) {
        Sentence place = Sentence.of("calculator.linePart", line, what);
        e.problems()
            .forEach(p -> checks.problem(field, Sentence.of("problem.field", place, p.message())));
        return null;
      }
    }
  }
}
