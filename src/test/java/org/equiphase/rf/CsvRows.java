package org.equiphase.rf;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/** Rows of a reference table without quotes, by column name. */
public final class CsvRows {
  private CsvRows() {}

  /** One row. */
  public record Row(String name, Map<String, String> cells) {
    public String text(String column) {
      String cell = cells.get(column);
      if (cell == null) {
        throw new IllegalArgumentException("no column " + column);
      }
      return cell;
    }

    public double number(String column) {
      return Double.parseDouble(text(column));
    }

    @Override
    public String toString() {
      return name;
    }
  }

  public static Stream<Row> of(String resource) {
    try (InputStream stream = CsvRows.class.getResourceAsStream(resource)) {
      if (stream == null) {
        throw new IllegalArgumentException("no resource " + resource);
      }
      return parse(new String(stream.readAllBytes(), StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static Stream<Row> parse(String csv) {
    List<String> lines = csv.lines().toList();
    String[] header = lines.get(0).split(",", -1);
    List<Row> rows = new ArrayList<>();
    for (int i = 1; i < lines.size(); i++) {
      String[] cells = lines.get(i).split(",", -1);
      Map<String, String> row = new HashMap<>();
      for (int column = 0; column < header.length; column++) {
        row.put(header[column], cells[column]);
      }
      rows.add(new Row("row " + (i + 1) + ": " + cells[0], row));
    }
    return rows.stream();
  }
}
