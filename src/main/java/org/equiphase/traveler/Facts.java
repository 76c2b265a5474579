package org.equiphase.traveler;

import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.traveler.Book.Look;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/** Labels, given by their keys, with their values, line by line, in two columns of a sheet. */
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
  void title(String key) {
    if (next > 0) {
      next++;
    }
    XSSFRow row = row();
    Book.height(row, 7);
    book.text(row, labelColumn, book.words().text(key), Look.TITLE);
  }

  void add(String key, @Nullable String value) {
    XSSFRow row = label(key);
    book.text(row, valueColumn, value, Look.VALUE);
  }

  void add(String key, @Nullable Number value) {
    XSSFRow row = label(key);
    book.number(row, valueColumn, value, Look.VALUE);
  }

  private XSSFRow label(String key) {
    XSSFRow row = row();
    book.text(row, labelColumn, book.words().text(key), Look.LABEL);
    return row;
  }

  void order(WorkOrder order) {
    add("traveler.fact.order", order.number());
    add("traveler.fact.revision", order.revision());
    add("traveler.due", order.dueOn() == null ? "" : order.dueOn().toString());
  }

  void specification(Heading heading) {
    Specification s = heading.order().specification();
    add("traveler.cableType", heading.cableType().name());
    add("traveler.fact.velocityFactor", heading.cableType().velocityFactor());
    add("traveler.fact.connector", s.connector());
    add("traveler.fact.torqueNm", s.connectorTorqueNm());
    add("traveler.method", book.words().say(heading.method()));
    add("traveler.fact.basis", s.basis().name());
    add("traveler.fact.turns", s.turns().name());
    add("traveler.fact.nominalLengthMm", s.nominalLengthMm());
    add("traveler.fact.lengthToleranceMm", s.nominalLengthToleranceMm());
    add("traveler.fact.trimAllowanceMm", s.trimAllowanceMm());
    add("traveler.fact.cutStepMm", s.cutResolutionMm());
    if (heading.stretcher() != null) {
      add("traveler.lineStretcher", heading.stretcher().name());
      add("traveler.fact.fittedAtMm", s.stretcherStartMm());
    }
    add("traveler.fact.referenceTemperatureC", s.referenceTemperatureC());
    add("traveler.decisionRule", book.words().say(heading.decisionRule()));
  }
}
