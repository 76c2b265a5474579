package org.equiphase.traveler;

import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Facts;
import org.equiphase.sheet.Words;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.Spot;
import org.equiphase.traveler.SheetData.Step;
import org.equiphase.traveler.SheetData.Task;

/** The traveler of one assembly on a sheet of its own, which fits one page. */
final class AssemblyPage {

  private static final int LAST_COLUMN = 7;
  private static final int FACTS_ROW = 5;

  private final Book book;
  private final Words words;
  private final Heading heading;
  private final AssemblySheet assembly;
  private final String footer;
  private final XSSFSheet sheet;
  private int next;

  AssemblyPage(Book book, Heading heading, AssemblySheet assembly, String footer) {
    this.book = book;
    this.words = book.words();
    this.heading = heading;
    this.assembly = assembly;
    this.footer = footer;
    this.sheet = book.sheet(assembly.assembly().serial());
  }

  void write() {
    book.widths(sheet, 46, 34, 34, 24, 24, 24, 24, 24);
    head();
    facts();
    frequencies();
    steps();
    cautions();
    sheet.createFreezePane(0, FACTS_ROW);
    book.print(sheet, Book.Page.SINGLE, next - 1, LAST_COLUMN, footer);
  }

  /** What stays in view: which assembly, and what to do to it. */
  private void head() {
    book.text(
        row(7), 0, words.text("traveler.ofAssembly", assembly.assembly().serial()), Look.TITLE);
    note(heading.order().title());
    book.barcode(sheet, row(13).getRowNum(), 0, assembly.barcode(), 11);
    book.text(row(11), 0, words.say(assembly.task().text()), Look.ACTION);
    note(words.say(assembly.task().reason()));
  }

  private void note(String text) {
    book.text(row(9), 0, text, Look.NOTE);
    merge(0, LAST_COLUMN);
  }

  private void facts() {
    Task task = assembly.task();
    Facts left = new Facts(book, sheet, 0, 1);
    left.goTo(FACTS_ROW);
    left.title("traveler.book.assembly");
    left.add("traveler.column.serial", assembly.assembly().serial());
    OrderFacts.order(left, heading.order());
    left.add(
        "traveler.column.set",
        assembly.set() == null ? words.text("traveler.pool") : assembly.set().name());
    left.add(
        "traveler.column.position", assembly.position() == null ? "" : assembly.position().label());
    left.add("traveler.column.instruction", task.instructionId());
    left.add(
        "traveler.column.reading", assembly.reading() == null ? null : assembly.reading().id());
    left.add("traveler.column.cutMm", task.cutMm());
    left.add("traveler.column.cutIn", task.cutIn());
    left.add("traveler.column.settingMm", task.settingMm());
    Facts right = new Facts(book, sheet, 3, 5);
    right.goTo(FACTS_ROW);
    right.title("traveler.book.specification");
    OrderFacts.specification(right, words, heading);
    next = Math.max(left.next(), right.next()) + 1;
  }

  private XSSFRow row(double heightMm) {
    XSSFRow row = sheet.createRow(next++);
    Book.height(row, heightMm);
    return row;
  }

  private void heads(String... keys) {
    XSSFRow row = row(8);
    for (int column = 0; column < keys.length; column++) {
      book.text(row, column, keys[column].isEmpty() ? "" : words.text(keys[column]), Look.HEAD);
    }
  }

  private void frequencies() {
    heads(
        "traveler.column.frequencyGhz",
        "traveler.column.toleranceDeg",
        "traveler.column.acceptanceDeg",
        "traveler.column.targetDeg",
        "traveler.column.measuredDeg",
        "traveler.column.errorDeg",
        "traveler.column.predictedDeg",
        "traveler.column.predictedErrorDeg");
    for (Spot spot : assembly.spots()) {
      XSSFRow row = row(5);
      book.number(row, 0, spot.frequencyHz() / 1e9, Look.QUANTITY);
      book.number(row, 1, spot.toleranceDeg(), Look.QUANTITY);
      book.number(row, 2, spot.acceptanceDeg(), Look.DEGREES);
      book.number(row, 3, spot.targetDeg(), Look.DEGREES);
      book.number(row, 4, spot.measuredDeg(), Look.DEGREES);
      book.number(row, 5, spot.errorDeg(), Look.SIGNED_DEGREES);
      book.number(row, 6, spot.predictedDeg(), Look.DEGREES);
      book.number(row, 7, spot.predictedErrorDeg(), Look.SIGNED_DEGREES);
    }
    next++;
  }

  private void steps() {
    heads(
        "traveler.step",
        "traveler.book.whatToDo",
        "",
        "traveler.book.valueOf",
        "traveler.value",
        "",
        "traveler.column.initials",
        "traveler.column.date");
    merge(1, 2);
    merge(4, 5);
    for (Step step : assembly.steps()) {
      XSSFRow row = row(10);
      book.text(row, 0, words.say(step.name()), Look.TEXT);
      book.text(
          row,
          1,
          step.own().isEmpty()
              ? words.say(step.what())
              : words.text("traveler.step.andOwn", step.what(), step.own()),
          Look.TEXT);
      book.box(row, 2);
      book.text(row, 3, words.say(step.value()), Look.TEXT);
      for (int column = 4; column <= LAST_COLUMN; column++) {
        book.box(row, column);
      }
      merge(1, 2);
      merge(4, 5);
    }
    next++;
  }

  private void cautions() {
    heads("traveler.book.caution", "traveler.book.whatToDo", "", "", "", "", "", "");
    merge(1, LAST_COLUMN);
    for (Caution caution : heading.cautions()) {
      XSSFRow row = row(8);
      book.text(row, 0, words.say(caution.title()), Look.TEXT);
      book.text(row, 1, words.say(caution.text()), Look.TEXT);
      for (int column = 2; column <= LAST_COLUMN; column++) {
        book.box(row, column);
      }
      merge(1, LAST_COLUMN);
    }
  }

  /** Joins cells of the row written last. */
  private void merge(int first, int last) {
    sheet.addMergedRegion(new CellRangeAddress(next - 1, next - 1, first, last));
  }
}
