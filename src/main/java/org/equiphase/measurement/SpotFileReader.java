package org.equiphase.measurement;

import java.io.IOException;
import java.io.Serializable;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import org.apache.commons.csv.CSVException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.web.Digits;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Reads phases at single frequencies from a CSV file: headings in the first line, then one line per
 * frequency, all of one assembly. Cells are separated by commas, or by semicolons, and then numbers
 * may have a decimal comma. An unknown heading is refused: a misspelled one must not pass unseen.
 */
final class SpotFileReader {

  static final String SERIAL = "serial";
  static final String TEMPERATURE = "temperature_c";
  static final String PHASE = "phase_deg";
  static final String LOSS = "insertion_loss_db";
  static final String VSWR = "vswr";

  private static final Map<String, Double> FREQUENCIES =
      new TreeMap<>(Map.of("frequency_hz", 1.0, "frequency_mhz", 1e6, "frequency_ghz", 1e9));
  private static final Set<String> OTHERS = Set.of(SERIAL, TEMPERATURE, PHASE, LOSS, VSWR);
  private static final int MOST_ROWS = 1000;

  /** Several times what so many rows need. */
  private static final int MOST_BYTES = 1 << 20;

  private static final char BYTE_ORDER_MARK = '\uFEFF';

  private final boolean decimalComma;
  private final List<Row> rows;
  private final List<String> headings = new ArrayList<>();
  private final String frequencyColumn;

  /**
   * @param line where it stands in the file, empty lines counted
   */
  private record Row(long line, CSVRecord cells) {}

  private SpotFileReader(String text) {
    String first = text.lines().findFirst().orElse("");
    decimalComma = first.indexOf(';') >= 0;
    List<Row> records = records(text, decimalComma ? ';' : ',');
    if (records.isEmpty()) {
      throw bad(Sentence.of("files.csv.empty"));
    }
    for (String heading : records.get(0).cells()) {
      headings.add(heading.strip().toLowerCase(Locale.ROOT));
    }
    frequencyColumn = checkHeadings();
    rows = records.subList(1, records.size());
    if (rows.isEmpty()) {
      throw bad(Sentence.of("files.csv.noLines"));
    }
  }

  /**
   * @throws InvalidInputException naming line and column
   */
  static SpotFile read(byte[] content) {
    if (content.length > MOST_BYTES) {
      throw bad(Sentence.of("files.csv.tooLong", content.length, MOST_BYTES));
    }
    return new SpotFileReader(text(content)).file();
  }

  private static String text(byte[] content) {
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(content)).toString();
      return !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw bad(Sentence.of("files.csv.notUtf8"));
    }
  }

  private static List<Row> records(String text, char delimiter) {
    CSVFormat format =
        CSVFormat.RFC4180.builder().setDelimiter(delimiter).setIgnoreEmptyLines(true).get();
    try (CSVParser parser = CSVParser.parse(new StringReader(text), format)) {
      List<Row> records = new ArrayList<>();
      for (CSVRecord cells : parser) {
        records.add(new Row(parser.getCurrentLineNumber(), cells));
        if (records.size() > MOST_ROWS + 1) {
          throw bad(Sentence.of("files.csv.tooManyLines", MOST_ROWS));
        }
      }
      return records;
    } catch (CSVException | UncheckedIOException e) {
      throw bad(Sentence.of("files.csv.quotes"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Returns the column of the frequencies. */
  private String checkHeadings() {
    List<String> frequencies = new ArrayList<>();
    for (int i = 0; i < headings.size(); i++) {
      String heading = headings.get(i);
      if (headings.indexOf(heading) < i) {
        throw bad(Sentence.of("files.csv.headingTwice", heading));
      }
      if (FREQUENCIES.containsKey(heading)) {
        frequencies.add(heading);
      } else if (!OTHERS.contains(heading)) {
        throw bad(Sentence.of("files.csv.unknownHeading", heading));
      }
    }
    if (frequencies.size() != 1) {
      throw bad(Sentence.of("files.csv.frequencies", frequencies.size()));
    }
    if (!headings.contains(PHASE)) {
      throw bad(Sentence.of("files.csv.noPhase"));
    }
    return frequencies.get(0);
  }

  private SpotFile file() {
    String serial = null;
    Double temperatureC = null;
    List<TypedSpot> spots = new ArrayList<>();
    List<Long> lines = new ArrayList<>();
    double unitHz = Objects.requireNonNull(FREQUENCIES.get(frequencyColumn));
    for (Row row : rows) {
      if (row.cells().size() != headings.size()) {
        throw bad(Sentence.of("files.csv.cells", row.line(), row.cells().size(), headings.size()));
      }
      serial = same(row, SERIAL, serial, cell(row, SERIAL));
      temperatureC = same(row, TEMPERATURE, temperatureC, optionalNumber(row, TEMPERATURE));
      double frequencyHz = hertz(number(row, frequencyColumn), unitHz);
      for (int i = 0; i < spots.size(); i++) {
        if (spots.get(i).frequencyHz() == frequencyHz) {
          throw bad(row, frequencyColumn, Sentence.of("files.csv.frequencyAgain", lines.get(i)));
        }
      }
      spots.add(
          new TypedSpot(
              frequencyHz,
              number(row, PHASE),
              optionalNumber(row, LOSS),
              optionalNumber(row, VSWR)));
      lines.add(row.line());
    }
    return new SpotFile(serial, temperatureC, spots, lines, frequencyColumn);
  }

  /** Whole hertz where the decimals of the file mean such. */
  private static double hertz(double value, double unitHz) {
    double hertz = value * unitHz;
    double whole = Math.rint(hertz);
    return Math.abs(hertz - whole) <= 4 * Math.ulp(hertz) ? whole : hertz;
  }

  /** A value that the file may state in any of its lines, but not in two ways. */
  private <T> @Nullable T same(Row row, String column, @Nullable T before, @Nullable T value) {
    if (value == null || before == null || before.equals(value)) {
      return value == null ? before : value;
    }
    throw bad(row, column, Sentence.of("files.csv.twoReadings", written(value), written(before)));
  }

  private double number(Row row, String column) {
    Double value = optionalNumber(row, column);
    if (value == null) {
      throw bad(row, column, Sentence.of("files.csv.giveNumber"));
    }
    return value;
  }

  private @Nullable Double optionalNumber(Row row, String column) {
    String cell = cell(row, column);
    if (cell == null) {
      return null;
    }
    OptionalDouble value =
        !decimalComma && cell.indexOf(',') >= 0 ? OptionalDouble.empty() : Numbers.parse(cell);
    if (value.isEmpty()) {
      throw bad(
          row,
          column,
          Sentence.of(decimalComma ? "files.csv.notComma" : "files.csv.notPoint", cell));
    }
    return value.getAsDouble();
  }

  /** The cell's text; null where it is blank or the file has no such column. */
  private @Nullable String cell(Row row, String column) {
    int index = headings.indexOf(column);
    String text = index < 0 ? "" : row.cells().get(index).strip();
    return text.isEmpty() ? null : text;
  }

  private static Serializable written(Object value) {
    return value instanceof Double number ? Digits.of(number) : value.toString();
  }

  private static InvalidInputException bad(Row row, String column, Sentence message) {
    return bad(Sentence.of("files.csv.lineColumn", row.line(), column, message));
  }

  private static InvalidInputException bad(Sentence message) {
    return InvalidInputException.of("file", message);
  }
}
