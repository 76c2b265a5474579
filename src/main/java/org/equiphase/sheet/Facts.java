package org.equiphase.sheet;

import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book.Look;
import org.jspecify.annotations.Nullable;

/** Labels, given by their keys, with their values, line by line, in two columns of a sheet. */
public final class Facts {

  private final Book book;
  private final XSSFSheet sheet;
  private final int labelColumn;
  private final int valueColumn;
  private int next;

  public Facts(Book book, XSSFSheet sheet, int labelColumn, int valueColumn) {
    this.book = book;
    this.sheet = sheet;
    this.labelColumn = labelColumn;
    this.valueColumn = valueColumn;
  }

  /** The row that the next line will take. */
  public int next() {
    return next;
  }

  /** Goes on at a row. */
  public void goTo(int row) {
    next = row;
  }

  /** The next row, for cells beyond label and value. */
  public XSSFRow row() {
    XSSFRow row = sheet.getRow(next);
    next++;
    return row == null ? sheet.createRow(next - 1) : row;
  }

  /** A title, after an empty line. */
  public void title(String key) {
    if (next > 0) {
      next++;
    }
    XSSFRow row = row();
    Book.height(row, 7);
    book.text(row, labelColumn, book.words().text(key), Look.TITLE);
  }

  /** A line with a text. */
  public void add(String key, @Nullable String value) {
    XSSFRow row = label(key);
    book.text(row, valueColumn, value, Look.VALUE);
    Book.fit(row, 1);
  }

  /** A line with a number; empty where there is none. */
  public void add(String key, @Nullable Number value) {
    XSSFRow row = label(key);
    book.number(row, valueColumn, value, Look.VALUE);
  }

  private XSSFRow label(String key) {
    XSSFRow row = row();
    book.text(row, labelColumn, book.words().text(key), Look.LABEL);
    return row;
  }
}
