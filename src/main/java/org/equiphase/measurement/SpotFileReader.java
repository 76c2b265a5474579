package org.equiphase.measurement;

import java.io.IOException;
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
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Numbers;
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
      throw bad("is empty; the first line has the headings, each further line a frequency");
    }
    for (String heading : records.get(0).cells()) {
      headings.add(heading.strip().toLowerCase(Locale.ROOT));
    }
    frequencyColumn = checkHeadings();
    rows = records.subList(1, records.size());
    if (rows.isEmpty()) {
      throw bad("has no line below its headings; give one for each frequency");
    }
  }

  /**
   * @throws InvalidInputException naming line and column
   */
  static SpotFile read(byte[] content) {
    return new SpotFileReader(text(content)).file();
  }

  private static String text(byte[] content) {
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(content)).toString();
      return !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw bad("is no text in UTF-8; save it as such");
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
          throw bad("has more than " + MOST_ROWS + " lines below its headings");
        }
      }
      return records;
    } catch (CSVException | UncheckedIOException e) {
      throw bad("has quotes that are not closed, or text after a closing quote");
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
        throw bad("line 1 has the heading \"" + heading + "\" twice");
      }
      if (FREQUENCIES.containsKey(heading)) {
        frequencies.add(heading);
      } else if (!OTHERS.contains(heading)) {
        throw bad(
            "line 1 has the heading \""
                + heading
                + "\"; known are serial, temperature_c, frequency_hz, frequency_mhz,"
                + " frequency_ghz, phase_deg, insertion_loss_db and vswr, separated by commas or"
                + " semicolons");
      }
    }
    if (frequencies.size() != 1) {
      throw bad(
          "line 1 has "
              + frequencies.size()
              + " headings of frequencies; give one of frequency_hz, frequency_mhz, frequency_ghz");
    }
    if (!headings.contains(PHASE)) {
      throw bad("line 1 lacks the heading phase_deg");
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
        throw bad(
            "line %d has %d cells; the headings are %d"
                .formatted(row.line(), row.cells().size(), headings.size()));
      }
      serial = same(row, SERIAL, serial, cell(row, SERIAL));
      temperatureC = same(row, TEMPERATURE, temperatureC, optionalNumber(row, TEMPERATURE));
      double frequencyHz = hertz(number(row, frequencyColumn), unitHz);
      for (int i = 0; i < spots.size(); i++) {
        if (spots.get(i).frequencyHz() == frequencyHz) {
          throw bad(row, frequencyColumn, "is that of line " + lines.get(i) + " again");
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
    throw bad(
        row, column, "is " + value + ", above it is " + before + "; a file is of one reading");
  }

  private double number(Row row, String column) {
    Double value = optionalNumber(row, column);
    if (value == null) {
      throw bad(row, column, "is empty; give a number");
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
          "\""
              + cell
              + "\" is no number; give digits with a decimal point"
              + (decimalComma ? " or comma" : "")
              + ", not grouped, without unit");
    }
    return value.getAsDouble();
  }

  /** The cell's text; null where it is blank or the file has no such column. */
  private @Nullable String cell(Row row, String column) {
    int index = headings.indexOf(column);
    String text = index < 0 ? "" : row.cells().get(index).strip();
    return text.isEmpty() ? null : text;
  }

  private static InvalidInputException bad(Row row, String column, String message) {
    return bad("line " + row.line() + ", column " + column + ": " + message);
  }

  private static InvalidInputException bad(String message) {
    return InvalidInputException.of("file", message);
  }
}
