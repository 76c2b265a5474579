package org.equiphase.traveler;

import java.util.List;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.traveler.Book.Look;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.Spot;
import org.equiphase.traveler.SheetData.Task;

/** Assemblies, one a row, with what to do and boxes for what was done. */
final class MemberTable {

  private static final double ROW_MM = 12;
  private static final double BARCODE_MM = 9.5;

  private final Book book;
  private final XSSFSheet sheet;
  private final Heading heading;
  private final List<AssemblySheet> assemblies;
  private int column;

  MemberTable(Book book, XSSFSheet sheet, Heading heading, List<AssemblySheet> assemblies) {
    this.book = book;
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
    head(head, "Set", 18);
    head(head, "Position", 16);
    head(head, "Serial number", 30);
    head(head, "Barcode", barcodeMm + 8);
    head(head, "Cable type", 42);
    for (var f : heading.order().specification().frequencies()) {
      String at = " at " + plain(f.frequencyHz() / 1e9) + " GHz, °";
      head(head, "Target" + at, 18);
      head(head, "Measured" + at, 18);
      head(head, "Error" + at, 16);
      head(head, "Predicted" + at, 18);
      head(head, "Predicted error" + at, 17);
    }
    head(head, "Action", 48);
    head(head, "Cut, mm", 14);
    head(head, "Cut, in", 14);
    head(head, "Stretcher setting, mm", 17);
    head(head, "From reading", 15);
    head(head, "Instruction no.", 18);
    head(head, "Really cut, mm", 18);
    head(head, "Really set, mm", 18);
    head(head, "Initials", 15);
    head(head, "Date", 22);
    for (int i = 0; i < assemblies.size(); i++) {
      member(i + 1, assemblies.get(i));
    }
  }

  private void head(XSSFRow row, String text, double widthMm) {
    book.text(row, column, text, Look.HEAD);
    book.width(sheet, column, widthMm);
    column++;
  }

  private void member(int rowIndex, AssemblySheet assembly) {
    XSSFRow row = sheet.createRow(rowIndex);
    Book.height(row, ROW_MM);
    Task task = assembly.task();
    int c = 0;
    book.text(row, c++, assembly.set() == null ? "pool" : assembly.set().name(), Look.TEXT);
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
    book.text(row, c++, task.text(), Look.TEXT);
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
