package org.equiphase.catalog;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.equiphase.catalog.PastedTable.Row;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.util.MultiValueMap;

/**
 * Reads a form's typed texts. What can't be read becomes a problem of its field, and a stand-in is
 * answered, so that one look at the page shows everything that is wrong.
 */
final class FormReader {
  private final MultiValueMap<String, String> typed;
  private final DraftProblems problems;

  FormReader(MultiValueMap<String, String> typed, DraftProblems problems) {
    this.typed = typed;
    this.problems = problems;
  }

  DraftProblems problems() {
    return problems;
  }

  String text(String field) {
    String value = typed.getFirst(field);
    return value == null ? "" : value.strip();
  }

  double number(String field) {
    String text = text(field);
    if (text.isEmpty()) {
      return problems.number(field, null);
    }
    OptionalDouble number = Numbers.parse(text);
    if (number.isEmpty()) {
      problems.add(field, Sentence.of("catalog.typedNotANumber", text));
    }
    return number.orElse(Double.NaN);
  }

  @Nullable Double optionalNumber(String field) {
    return text(field).isEmpty() ? null : number(field);
  }

  int whole(String field) {
    double number = number(field);
    if (!Double.isNaN(number) && (number != Math.rint(number) || Math.abs(number) > 1e9)) {
      problems.add(field, Sentence.of("catalog.notWhole", text(field)));
    }
    return (int) number;
  }

  LocalDate day(String field) {
    return problems.day(field, optionalDay(field));
  }

  @Nullable LocalDate optionalDay(String field) {
    String text = text(field);
    if (text.isEmpty()) {
      return null;
    }
    try {
      return LocalDate.parse(text);
    } catch (DateTimeParseException e) {
      problems.add(field, Sentence.of("catalog.notADay", text));
      return null;
    }
  }

  <E extends Enum<E>> E choice(String field, Class<E> type) {
    E[] choices = type.getEnumConstants();
    String text = text(field);
    return problems.required(
        field,
        Arrays.stream(choices).filter(c -> c.name().equals(text)).findFirst().orElse(null),
        choices[0],
        "catalog.chooseOne");
  }

  List<Row> rows(String field) {
    String text = typed.getFirst(field);
    PastedTable table = PastedTable.parse(text == null ? "" : text);
    if (table.problem() != null) {
      problems.add(field, table.problem());
    }
    return table.rows();
  }

  @Nullable Long id(String field) {
    String text = text(field);
    return text.isEmpty() ? null : idOf(text);
  }

  List<@Nullable Long> ids(String field) {
    return typed.getOrDefault(field, List.of()).stream()
        .<@Nullable Long>map(FormReader::idOf)
        .toList();
  }

  /** Ids come from the page's own choices; anything else names no entry. */
  private static long idOf(String text) {
    try {
      return Long.parseLong(text);
    } catch (NumberFormatException e) {
      return 0;
    }
  }
}
