package org.equiphase.traveler;

import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.traveler.Book.Look;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/** Labels with their values, line by line, in two columns of a sheet. */
final class Facts {

  private final Book book;
  private final XSSFSheet sheet;
  private final int labelColumn;
  private final int valueColumn;
  private int next;

  Facts(Book book, XSSFSheet sheet, int labelColumn, int valueColumn) {
    this.book = book;
    this.sheet = sheet;
    this.labelColumn = labelColumn;
    this.valueColumn = valueColumn;
  }

  /** The row that the next line will take. */
  int next() {
    return next;
  }

  /** Goes on at a row. */
  void goTo(int row) {
    next = row;
  }

  XSSFRow row() {
    XSSFRow row = sheet.getRow(next);
    next++;
    return row == null ? sheet.createRow(next - 1) : row;
  }

  /** A title, after an empty line. */
  void title(String text) {
    if (next > 0) {
      next++;
    }
    XSSFRow row = row();
    Book.height(row, 7);
    book.text(row, labelColumn, text, Look.TITLE);
  }

  void add(String label, @Nullable String value) {
    XSSFRow row = row();
    book.text(row, labelColumn, label, Look.LABEL);
    book.text(row, valueColumn, value, Look.VALUE);
  }

  void add(String label, @Nullable Number value) {
    XSSFRow row = row();
    book.text(row, labelColumn, label, Look.LABEL);
    book.number(row, valueColumn, value, Look.VALUE);
  }

  void order(WorkOrder order) {
    add("Order", order.number());
    add("Revision", order.revision());
    add("Due", order.dueOn() == null ? "" : order.dueOn().toString());
  }

  void specification(Heading heading) {
    Specification s = heading.order().specification();
    add("Cable type", heading.cableType().name());
    add("Velocity factor", heading.cableType().velocityFactor());
    add("Connector", s.connector());
    add("Coupling torque, N·m", s.connectorTorqueNm());
    add("Method", heading.method());
    add("Basis", s.basis().name());
    add("Turns", s.turns().name());
    add("Nominal length, mm", s.nominalLengthMm());
    add("Length tolerance ±, mm", s.nominalLengthToleranceMm());
    add("Trim allowance, mm", s.trimAllowanceMm());
    add("Cut step, mm", s.cutResolutionMm());
    if (heading.stretcher() != null) {
      add("Line stretcher", heading.stretcher().name());
      add("Fitted at, mm", s.stretcherStartMm());
    }
    add("Reference temperature, °C", s.referenceTemperatureC());
    add("Decision rule", heading.decisionRule());
  }
}
