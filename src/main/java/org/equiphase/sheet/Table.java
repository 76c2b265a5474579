package org.equiphase.sheet;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book.Look;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Plain data, the same as text file and as sheet of a workbook: a head row, then a row per record.
 *
 * @param <R> what a row is made from
 */
public record Table<R>(List<Column<R>> columns, List<R> rows) {

  private static final int HEAD_LINES = 2;

  public Table {
    columns = List.copyOf(columns);
    rows = List.copyOf(rows);
  }

  /** As CSV (RFC 4180) in UTF-8, the same whoever asks. */
  public byte[] csv() {
    Words words = new Words(Sentence.RECORD_LANGUAGE);
    StringWriter text = new StringWriter();
    try (CSVPrinter printer = new CSVPrinter(text, CSVFormat.RFC4180)) {
      printer.printRecord(columns.stream().map(Column::name).toList());
      for (R row : rows) {
        for (Column<R> column : columns) {
          Object value = column.value().apply(row);
          printer.print(column.look() == Look.TEXT ? guarded(words.say(value)) : value);
        }
        printer.println();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }

  /** A spreadsheet program takes such text for a formula; the apostrophe makes it text. */
  public static String guarded(String text) {
    return Book.looksLikeFormula(text) ? "'" + text : text;
  }

  /** As a workbook of one sheet. */
  public byte[] xlsx(Words words, String sheetName, String footer) {
    Book book = new Book(words);
    addTo(book, sheetName, footer);
    return book.bytes();
  }

  /** As one more sheet of a workbook: the head stays in view and on each printed page. */
  public void addTo(Book book, String sheetName, String footer) {
    XSSFSheet sheet = book.sheet(sheetName);
    XSSFRow head = sheet.createRow(0);
    for (int c = 0; c < columns.size(); c++) {
      book.head(head, c, book.words().say(columns.get(c).head()), columns.get(c).widthMm());
    }
    Book.fit(head, HEAD_LINES);
    for (int r = 0; r < rows.size(); r++) {
      XSSFRow row = sheet.createRow(r + 1);
      for (int c = 0; c < columns.size(); c++) {
        write(book, row, c, columns.get(c), columns.get(c).value().apply(rows.get(r)));
      }
      Book.fit(row, 1);
    }
    sheet.createFreezePane(0, 1);
    sheet.setAutoFilter(new CellRangeAddress(0, rows.size(), 0, columns.size() - 1));
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, Book.Page.LANDSCAPE, rows.size(), columns.size() - 1, footer);
  }

  private void write(Book book, XSSFRow row, int c, Column<R> column, @Nullable Object value) {
    switch (column.look()) {
      case TEXT -> book.text(row, c, book.words().say(value), Look.TEXT);
      case TIME -> book.time(row, c, (Instant) value);
      default -> book.number(row, c, (Number) value, column.look());
    }
  }
}
