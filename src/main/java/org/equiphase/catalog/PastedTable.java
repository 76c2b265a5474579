package org.equiphase.catalog;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A table of two numbers a row, as typed or pasted from a spreadsheet. Cells are separated by tabs,
 * else by semicolons, else by commas: one separator for the whole text, so that a decimal comma is
 * never taken for a separator in a text that has a better one. Blank rows and a first row without
 * digits (the headings) are skipped; rows are counted as they stand in the text.
 *
 * @param problem what is wrong with the first bad row; null where all rows could be read
 */
record PastedTable(List<Row> rows, @Nullable Sentence problem) {

  record Row(double first, double second) {}

  PastedTable {
    rows = List.copyOf(rows);
  }

  static PastedTable parse(String text) {
    List<String> lines = text.lines().toList();
    String separator = text.contains("\t") ? "\t" : text.contains(";") ? ";" : ",";
    List<Row> rows = new ArrayList<>();
    boolean first = true;
    for (int i = 0; i < lines.size(); i++) {
      String line = lines.get(i);
      boolean heading = first && line.chars().noneMatch(Character::isDigit);
      if (line.isBlank()) {
        continue;
      }
      first = false;
      if (heading) {
        continue;
      }
      String[] cells = line.split(separator, 0);
      if (cells.length != 2) {
        return new PastedTable(List.of(), wrongCount(i, line, cells.length));
      }
      OptionalDouble left = Numbers.parse(cells[0]);
      OptionalDouble right = Numbers.parse(cells[1]);
      if (left.isEmpty() || right.isEmpty()) {
        return new PastedTable(
            List.of(), notANumber(i, (left.isEmpty() ? cells[0] : cells[1]).strip()));
      }
      rows.add(new Row(left.getAsDouble(), right.getAsDouble()));
    }
    return new PastedTable(rows, null);
  }

  private static Sentence wrongCount(int index, String line, int cells) {
    String text = shortened(line.strip());
    return cells == 1
        ? Sentence.of("catalog.rowOneCell", index + 1, text)
        : Sentence.of("catalog.rowCells", index + 1, text, cells);
  }

  private static Sentence notANumber(int index, String cell) {
    return Sentence.of("catalog.rowNotANumber", index + 1, shortened(cell));
  }

  private static String shortened(String text) {
    return text.length() <= 40 ? text : text.substring(0, 40) + "…";
  }
}
