package org.equiphase.sheet;

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
import org.apache.commons.csv.CSVException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.poi.openxml4j.opc.OPCPackage;
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

  /**
   * Each tag takes up to 2 kB in the library. Two thousand rows with eighteen cells filled in have
   * fewer, and most cells of a table of orders are empty.
   */
  private static final WorkbookGate.Limits LIMITS =
      new WorkbookGate.Limits(MOST_BYTES, 8L * 1024 * 1024, 150_000);

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
      throw WorkbookGate.refusal(Sentence.of("sheet.table.tooLong", content.length, MOST_BYTES));
    }
    if (startsWith(content, 0xD0, 0xCF) || startsWith(content, 'P', 'K')) {
      return workbook(content);
    }
    return text(content);
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
          throw WorkbookGate.refusal(Sentence.of("sheet.table.tooManyRows", MOST_ROWS));
        }
        reading.row((int) begins, cells.toList());
        begins = parser.getCurrentLineNumber() + 1;
      }
    } catch (CSVException | UncheckedIOException e) {
      throw WorkbookGate.refusal(Sentence.of("sheet.table.quotes"));
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
      throw WorkbookGate.refusal(Sentence.of("sheet.table.notUtf8"));
    }
  }

  private static TableFile workbook(byte[] content) {
    return WorkbookGate.read(content, LIMITS, TableFile::firstSheet);
  }

  private static TableFile firstSheet(OPCPackage parts) throws IOException {
    Reading reading = new Reading();
    try (XSSFWorkbook workbook = new XSSFWorkbook(parts)) {
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
    }
    return reading.file(null);
  }

  private static List<String> cells(Row row, Reading reading) {
    int last = row.getLastCellNum();
    if (last > MOST_COLUMNS) {
      throw WorkbookGate.refusal(
          Sentence.of("sheet.table.tooWide", row.getRowNum() + 1, MOST_COLUMNS));
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
        throw WorkbookGate.refusal(Sentence.of("sheet.table.tooWide", number, MOST_COLUMNS));
      }
      if (headings.isEmpty()) {
        head(cells);
        return;
      }
      if (rows.size() == MOST_ROWS) {
        throw WorkbookGate.refusal(Sentence.of("sheet.table.tooManyRows", MOST_ROWS));
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
          throw WorkbookGate.refusal(Sentence.of("sheet.table.headingTwice", heading));
        }
        headings.add(heading);
      }
      while (headings.get(headings.size() - 1).isEmpty()) {
        headings.remove(headings.size() - 1);
      }
    }

    private TableFile file(@Nullable Character separator) {
      if (rows.isEmpty()) {
        throw WorkbookGate.refusal(Sentence.of("sheet.table.empty"));
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
