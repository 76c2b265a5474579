package org.equiphase.workbook;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** An order's workbook in the hands of a test: read, filled in, changed, saved. */
final class FilledBook {

  private static final int HEAD_ROW = 2;

  final XSSFWorkbook book;
  final XSSFSheet sheet;

  FilledBook(byte[] content) {
    try {
      book = new XSSFWorkbook(new ByteArrayInputStream(content));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    sheet = book.getSheetAt(Math.min(1, book.getNumberOfSheets() - 1));
  }

  int column(String head) {
    for (Cell cell : sheet.getRow(HEAD_ROW)) {
      if (text(cell).equals(head)) {
        return cell.getColumnIndex();
      }
    }
    throw new AssertionError("no \"" + head + "\" among " + heads());
  }

  List<String> heads() {
    List<String> heads = new ArrayList<>();
    sheet.getRow(HEAD_ROW).forEach(cell -> heads.add(text(cell)));
    return heads;
  }

  /** A heading as people read it: spaces that keep a unit beside its number are spaces. */
  private static String text(Cell head) {
    return head.getStringCellValue().replace('\u00a0', ' ');
  }

  Row row(String serial) {
    int column = column("Serial number");
    for (Row row : sheet) {
      Cell cell = row.getCell(column);
      if (cell != null
          && cell.getCellType() == CellType.STRING
          && cell.getStringCellValue().strip().equals(serial)) {
        return row;
      }
    }
    throw new AssertionError("no row " + serial);
  }

  Cell cell(String serial, String head) {
    Row row = row(serial);
    Cell cell = row.getCell(column(head));
    return cell == null ? row.createCell(column(head)) : cell;
  }

  /** What the cell's formula gives, computed anew from the cells that it names. */
  double value(String serial, String head) {
    FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
    return evaluator.evaluate(cell(serial, head)).getNumberValue();
  }

  FilledBook fill(String serial, String head, double value) {
    cell(serial, head).setCellValue(value);
    return this;
  }

  FilledBook fill(String serial, String head, String text) {
    write(row(serial), column(head), text);
    return this;
  }

  /** A new cell: POI leaves the old text of one that was streamed. */
  static void write(Row row, int column, String text) {
    Cell before = row.getCell(column);
    Cell cell = row.createCell(column);
    if (before != null) {
      cell.setCellStyle(before.getCellStyle());
    }
    cell.setCellValue(text);
  }

  List<Cell> formulas() {
    List<Cell> formulas = new ArrayList<>();
    sheet.forEach(
        row ->
            row.forEach(
                cell -> {
                  if (cell.getCellType() == CellType.FORMULA) {
                    formulas.add(cell);
                  }
                }));
    return formulas;
  }

  /** Leaves of the formulas only themselves, so that who opens the file has to compute them. */
  void forgetValues() {
    for (Cell cell : formulas()) {
      String formula = cell.getCellFormula();
      cell.setBlank();
      cell.setCellFormula(formula);
    }
  }

  byte[] saved() {
    try (ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      book.write(out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** The same with something done to it. */
  static byte[] changed(byte[] content, Consumer<FilledBook> change) {
    FilledBook book = new FilledBook(content);
    change.accept(book);
    return book.saved();
  }
}
