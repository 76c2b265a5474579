package org.equiphase.sheet;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.apache.commons.csv.CSVException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A table that came as a file: headings in its first row, then a row per record. CSV has to be
 * UTF-8, its cells parted by commas, semicolons or tabs; of a workbook the first sheet is read, and
 * of formulas their last values. The size of either is bounded before it is taken apart.
 *
 * @param separator what parts the cells; null in a workbook
 * @param headings in lower case
 * @param refused cells that can't be read
 */
public record TableFile(
    @Nullable Character separator,
    List<String> headings,
    List<TableRow> rows,
    List<BadCell> refused) {

  public static final int MOST_BYTES = 2 * 1024 * 1024;
  public static final int MOST_ROWS = 2000;
  private static final int MOST_COLUMNS = 100;

  /** With those in which nothing stands. */
  private static final int MOST_LINES = 10 * MOST_ROWS;

  private static final long MOST_UNPACKED_BYTES = 16L * 1024 * 1024;
  private static final int MOST_PARTS = 200;

  /** A full table of thirty columns has fewer; each takes a few hundred bytes in the library. */
  private static final long MOST_TAGS = 600_000;

  /** More are not told of, since nobody reads them; the file is refused all the same. */
  private static final int MOST_REFUSALS = 1000;

  private static final char BYTE_ORDER_MARK = '\uFEFF';

  /**
   * A row with anything in it.
   *
   * @param number as the program counts that shows the file, from 1
   * @param cells as many as there are headings; empty where there is nothing
   */
  public record TableRow(int number, List<String> cells) {
    public TableRow {
      cells = List.copyOf(cells);
    }
  }

  public record BadCell(int row, String heading, Sentence message) {}

  public TableFile {
    headings = List.copyOf(headings);
    rows = List.copyOf(rows);
    refused = List.copyOf(refused);
  }

  /**
   * @throws InvalidInputException where the file as a whole won't do; its field is {@code file}
   */
  public static TableFile read(byte[] content) {
    if (content.length > MOST_BYTES) {
      throw bad(Sentence.of("sheet.table.tooLong", content.length, MOST_BYTES));
    }
    if (startsWith(content, 0xD0, 0xCF, 0x11, 0xE0)) {
      throw bad(Sentence.of("sheet.table.oldWorkbook"));
    }
    return startsWith(content, 'P', 'K') ? workbook(content) : text(content);
  }

  private static boolean startsWith(byte[] content, int... first) {
    for (int i = 0; i < first.length; i++) {
      if (i >= content.length || (content[i] & 0xFF) != first[i]) {
        return false;
      }
    }
    return true;
  }

  private static TableFile text(byte[] content) {
    String text = decoded(content);
    String head = text.lines().findFirst().orElse("");
    char separator = head.indexOf(';') >= 0 ? ';' : head.indexOf('\t') >= 0 ? '\t' : ',';
    CSVFormat format = CSVFormat.RFC4180.builder().setDelimiter(separator).get();
    Reading reading = new Reading();
    try (CSVParser parser = CSVParser.parse(new StringReader(text), format)) {
      long begins = 1;
      for (CSVRecord cells : parser) {
        if (parser.getRecordNumber() > MOST_LINES) {
          throw bad(Sentence.of("sheet.table.tooManyRows", MOST_ROWS));
        }
        reading.row((int) begins, cells.toList());
        begins = parser.getCurrentLineNumber() + 1;
      }
    } catch (CSVException | UncheckedIOException e) {
      throw bad(Sentence.of("sheet.table.quotes"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return reading.file(separator);
  }

  private static String decoded(byte[] content) {
    try {
      String text = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(content)).toString();
      return !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK ? text.substring(1) : text;
    } catch (CharacterCodingException e) {
      throw bad(Sentence.of("sheet.table.notUtf8"));
    }
  }

  private static TableFile workbook(byte[] content) {
    checkParts(content);
    Reading reading = new Reading();
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(content))) {
      XSSFSheet sheet = workbook.getSheetAt(0);
      for (Row row : sheet) {
        reading.row(row.getRowNum() + 1, cells(row, reading));
      }
      for (CellRangeAddress merged : sheet.getMergedRegions()) {
        reading.refuse(
            merged.getFirstRow() + 1,
            merged.getFirstColumn(),
            Sentence.of("sheet.table.merged", merged.formatAsString()));
      }
    } catch (InvalidInputException e) {
      throw e;
    } catch (IOException | RuntimeException e) {
      // What a broken or hostile workbook makes the library throw is of no fixed kind.
      throw bad(Sentence.of("sheet.table.broken"));
    }
    return reading.file(null);
  }

  private static List<String> cells(Row row, Reading reading) {
    int last = row.getLastCellNum();
    if (last > MOST_COLUMNS) {
      throw bad(Sentence.of("sheet.table.tooWide", row.getRowNum() + 1, MOST_COLUMNS));
    }
    List<String> cells = new ArrayList<>();
    for (int c = 0; c < last; c++) {
      Cell cell = row.getCell(c);
      cells.add(cell == null ? "" : cell(cell, reading));
    }
    return cells;
  }

  private static String cell(Cell cell, Reading reading) {
    CellType type =
        cell.getCellType() == CellType.FORMULA
            ? cell.getCachedFormulaResultType()
            : cell.getCellType();
    return switch (type) {
      case STRING -> cell.getStringCellValue();
      case BOOLEAN -> Boolean.toString(cell.getBooleanCellValue());
      case NUMERIC -> number(cell);
      case ERROR -> {
        String error = FormulaError.forInt(cell.getErrorCellValue()).getString();
        reading.refuse(
            cell.getRowIndex() + 1, cell.getColumnIndex(), Sentence.of("sheet.table.error", error));
        yield "";
      }
      default -> "";
    };
  }

  private static String number(Cell cell) {
    if (DateUtil.isCellDateFormatted(cell)) {
      return cell.getLocalDateTimeCellValue().toLocalDate().toString();
    }
    double value = cell.getNumericCellValue();
    BigDecimal decimal = BigDecimal.valueOf(value);
    return decimal.signum() == 0 ? "0" : decimal.stripTrailingZeros().toPlainString();
  }

  /** Looks into the package before it is taken apart, and reads no more of it than is allowed. */
  private static void checkParts(byte[] content) {
    long unpacked = 0;
    long tags = 0;
    int parts = 0;
    byte[] chunk = new byte[8192];
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(content))) {
      for (ZipEntry part = zip.getNextEntry(); part != null; part = zip.getNextEntry()) {
        refusePart(part.getName().toLowerCase(Locale.ROOT));
        if (++parts > MOST_PARTS) {
          throw bad(Sentence.of("sheet.table.bomb"));
        }
        for (int read = zip.read(chunk); read >= 0; read = zip.read(chunk)) {
          unpacked += read;
          for (int i = 0; i < read; i++) {
            tags += chunk[i] == '<' ? 1 : 0;
          }
          if (unpacked > MOST_UNPACKED_BYTES || tags > MOST_TAGS) {
            throw bad(Sentence.of("sheet.table.bomb"));
          }
        }
      }
    } catch (IOException | IllegalArgumentException e) {
      throw bad(Sentence.of("sheet.table.broken"));
    }
  }

  private static void refusePart(String name) {
    if (name.contains("externallink")) {
      throw bad(Sentence.of("sheet.table.links"));
    }
    if (name.endsWith("vbaproject.bin") || name.contains("/embeddings/")) {
      throw bad(Sentence.of("sheet.table.macros"));
    }
  }

  private static InvalidInputException bad(Sentence message) {
    return InvalidInputException.of("file", message);
  }

  /** What is read so far. */
  private static final class Reading {

    private final List<String> headings = new ArrayList<>();
    private final List<TableRow> rows = new ArrayList<>();
    private final List<Refusal> refusals = new ArrayList<>();

    private record Refusal(int row, int column, Sentence message) {}

    private void refuse(int row, int column, Sentence message) {
      if (refusals.size() < MOST_REFUSALS) {
        refusals.add(new Refusal(row, column, message));
      }
    }

    private void row(int number, List<String> cells) {
      if (cells.stream().allMatch(String::isBlank)) {
        return;
      }
      if (cells.size() > MOST_COLUMNS) {
        throw bad(Sentence.of("sheet.table.tooWide", number, MOST_COLUMNS));
      }
      if (headings.isEmpty()) {
        head(cells);
        return;
      }
      if (rows.size() == MOST_ROWS) {
        throw bad(Sentence.of("sheet.table.tooManyRows", MOST_ROWS));
      }
      List<String> whole = new ArrayList<>();
      for (int c = 0; c < Math.max(headings.size(), cells.size()); c++) {
        String text = c < cells.size() ? cells.get(c).strip() : "";
        if (c < headings.size()) {
          whole.add(text);
        } else if (!text.isEmpty()) {
          refuse(number, c, Sentence.of("sheet.table.noHeading", text));
        }
      }
      rows.add(new TableRow(number, whole));
    }

    private void head(List<String> cells) {
      for (String cell : cells) {
        String heading = cell.strip().toLowerCase(Locale.ROOT);
        if (!heading.isEmpty() && headings.contains(heading)) {
          throw bad(Sentence.of("sheet.table.headingTwice", heading));
        }
        headings.add(heading);
      }
      while (headings.get(headings.size() - 1).isEmpty()) {
        headings.remove(headings.size() - 1);
      }
    }

    private TableFile file(@Nullable Character separator) {
      if (rows.isEmpty()) {
        throw bad(Sentence.of("sheet.table.empty"));
      }
      return new TableFile(
          separator,
          headings,
          rows,
          refusals.stream().map(r -> new BadCell(r.row, heading(r.column), r.message)).toList());
    }

    /** Its heading, or its letter where it has none. */
    private String heading(int column) {
      return column < headings.size() && !headings.get(column).isEmpty()
          ? headings.get(column)
          : CellReference.convertNumToColString(column);
    }
  }
}
