package org.equiphase.traveler;

import java.io.Serializable;
import java.util.List;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Words;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.Spot;
import org.equiphase.traveler.SheetData.Task;

/** Assemblies, one a row, with what to do and boxes for what was done. */
final class MemberTable {

  private static final double ROW_MM = 12;
  private static final double BARCODE_MM = 9.5;

  private final Book book;
  private final Words words;
  private final XSSFSheet sheet;
  private final Heading heading;
  private final List<AssemblySheet> assemblies;
  private int column;

  MemberTable(Book book, XSSFSheet sheet, Heading heading, List<AssemblySheet> assemblies) {
    this.book = book;
    this.words = book.words();
    this.sheet = sheet;
    this.heading = heading;
    this.assemblies = List.copyOf(assemblies);
  }

  int lastRow() {
    return assemblies.size();
  }

  int lastColumn() {
    return column - 1;
  }

  void write() {
    XSSFRow head = sheet.createRow(0);
    Book.height(head, 18);
    double barcodeMm = assemblies.stream().mapToDouble(a -> a.barcode().wideMm()).max().orElse(30);
    head(head, 18, "traveler.column.set");
    head(head, 16, "traveler.column.position");
    head(head, 30, "traveler.column.serial");
    head(head, barcodeMm + 8, "traveler.column.barcode");
    head(head, 42, "traveler.column.cableType");
    for (var f : heading.order().specification().frequencies()) {
      String ghz = plain(f.frequencyHz() / 1e9);
      head(head, 18, "traveler.column.targetAt", ghz);
      head(head, 18, "traveler.column.measuredAt", ghz);
      head(head, 16, "traveler.column.errorAt", ghz);
      head(head, 18, "traveler.column.predictedAt", ghz);
      head(head, 17, "traveler.column.predictedErrorAt", ghz);
    }
    head(head, 48, "traveler.column.action");
    head(head, 14, "traveler.column.cutMm");
    head(head, 14, "traveler.column.cutIn");
    head(head, 17, "traveler.column.settingMm");
    head(head, 15, "traveler.column.reading");
    head(head, 18, "traveler.column.instruction");
    head(head, 18, "traveler.column.reallyCutMm");
    head(head, 18, "traveler.column.reallySetMm");
    head(head, 15, "traveler.column.initials");
    head(head, 22, "traveler.column.date");
    for (int i = 0; i < assemblies.size(); i++) {
      member(i + 1, assemblies.get(i));
    }
  }

  private void head(XSSFRow row, double widthMm, String key, Serializable... values) {
    book.text(row, column, words.text(key, values), Look.HEAD);
    book.width(sheet, column, widthMm);
    column++;
  }

  private void member(int rowIndex, AssemblySheet assembly) {
    XSSFRow row = sheet.createRow(rowIndex);
    Book.height(row, ROW_MM);
    Task task = assembly.task();
    int c = 0;
    book.text(
        row,
        c++,
        assembly.set() == null ? words.text("traveler.pool") : assembly.set().name(),
        Look.TEXT);
    book.text(row, c++, assembly.position() == null ? "" : assembly.position().label(), Look.TEXT);
    book.text(row, c++, assembly.assembly().serial(), Look.TEXT);
    book.barcode(sheet, rowIndex, c, assembly.barcode(), BARCODE_MM);
    book.box(row, c++);
    book.text(row, c++, heading.cableType().name(), Look.TEXT);
    for (Spot spot : assembly.spots()) {
      book.number(row, c++, spot.targetDeg(), Look.DEGREES);
      book.number(row, c++, spot.measuredDeg(), Look.DEGREES);
      book.number(row, c++, spot.errorDeg(), Look.SIGNED_DEGREES);
      book.number(row, c++, spot.predictedDeg(), Look.DEGREES);
      book.number(row, c++, spot.predictedErrorDeg(), Look.SIGNED_DEGREES);
    }
    book.text(row, c++, words.say(task.text()), Look.TEXT);
    book.number(row, c++, task.cutMm(), Look.MILLIMETRES);
    book.number(row, c++, task.cutIn(), Look.INCHES);
    book.number(row, c++, task.settingMm(), Look.MILLIMETRES);
    book.number(
        row, c++, assembly.reading() == null ? null : assembly.reading().id(), Look.INTEGER);
    book.number(row, c++, task.instructionId(), Look.INTEGER);
    for (int box = 0; box < 4; box++) {
      book.box(row, c++);
    }
  }

  private static String plain(double value) {
    return java.math.BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }
}
