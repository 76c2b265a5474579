package org.equiphase.traveler;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.traveler.Book.Look;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.SetSheet;
import org.equiphase.traveler.SheetData.Spot;
import org.equiphase.traveler.SheetData.Step;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.web.Format;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.springframework.stereotype.Component;

/** Writes sheets as workbooks: numbers as numbers with their unit in the heading. */
@Component
class WorkbookWriter {

  private static final String STALE =
      "Valid only with the instruction numbers shown; check on screen before cutting.";
  private static final double ROW_MM = 11;
  private static final double BARCODE_MM = 9;

  private final Format format;

  WorkbookWriter(Format format) {
    this.format = format;
  }

  /** An order's instructions: a summary, a row per assembly, and the cautions. */
  byte[] instructions(SheetData data) {
    Book book = new Book();
    summary(book, data);
    members(book, "Instructions", data, data.assemblies());
    cautions(book, data.heading());
    return book.bytes();
  }

  /** Travelers: for each set its members on one sheet, then a sheet per assembly. */
  byte[] travelers(SheetData data) {
    Book book = new Book();
    for (SetSheet set : data.sets()) {
      members(book, "Set " + set.set().name(), data, set.members());
    }
    for (AssemblySheet assembly : data.assemblies()) {
      new AssemblyPage(book, data.heading(), assembly, footer(data.heading())).write();
    }
    cautions(book, data.heading());
    return book.bytes();
  }

  private String footer(Heading heading) {
    return "Order "
        + heading.order().number()
        + " rev "
        + heading.order().revision()
        + ", printed "
        + format.time(heading.printedAt())
        + "\n"
        + STALE;
  }

  private void summary(Book book, SheetData data) {
    XSSFSheet sheet = book.sheet("Summary");
    Heading h = data.heading();
    Specification s = h.order().specification();
    Lines lines = new Lines(book, sheet);
    lines.title("Trim instructions");
    lines.text("Order", h.order().number());
    lines.text("Title", h.order().title());
    lines.text("Revision", h.order().revision());
    lines.text("Due", h.order().dueOn() == null ? "" : h.order().dueOn().toString());
    lines.text("Printed", format.time(h.printedAt()));
    lines.text("Validity", STALE);
    lines.title("Specification");
    lines.specification(h, s);
    lines.title("Frequencies");
    XSSFRow head = lines.row();
    book.text(head, 0, "Frequency, GHz", Look.HEAD);
    book.text(head, 1, "Tolerance ±, °", Look.HEAD);
    for (FrequencySpecification f : s.frequencies()) {
      XSSFRow row = lines.row();
      book.number(row, 0, f.frequencyHz() / 1e9, Look.QUANTITY);
      book.number(row, 1, f.toleranceDeg(), Look.QUANTITY);
    }
    lines.title("Where they stand");
    lines.number("Sets", data.sets().size());
    lines.number("Assemblies", data.assemblies().size());
    Map<Task.Kind, Integer> counts = new EnumMap<>(Task.Kind.class);
    data.assemblies().forEach(a -> counts.merge(a.task().kind(), 1, Integer::sum));
    counts.forEach((kind, count) -> lines.number("Assemblies " + kind.label(), count));
    book.widths(sheet, 55, 90);
    sheet.createFreezePane(0, 1);
    book.print(sheet, false, false, lines.last(), 1, footer(h));
  }

  private void members(Book book, String name, SheetData data, List<AssemblySheet> assemblies) {
    XSSFSheet sheet = book.sheet(name);
    MemberTable table = new MemberTable(book, sheet, data.heading(), assemblies);
    table.write();
    boolean large = data.heading().order().specification().frequencies().size() > 2;
    sheet.createFreezePane(3, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, true, large, table.lastRow(), table.lastColumn(), footer(data.heading()));
  }

  private void cautions(Book book, Heading heading) {
    XSSFSheet sheet = book.sheet("Cautions");
    XSSFRow head = sheet.createRow(0);
    book.text(head, 0, "Caution", Look.HEAD);
    book.text(head, 1, "What to do", Look.HEAD);
    int r = 1;
    for (Caution caution : heading.cautions()) {
      XSSFRow row = sheet.createRow(r++);
      Book.height(row, 12);
      book.text(row, 0, caution.title(), Look.LABEL);
      book.text(row, 1, caution.text(), Look.WRAPPED);
    }
    book.widths(sheet, 50, 120);
    sheet.createFreezePane(0, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, false, false, r - 1, 1, footer(heading));
  }

  /** Label and value, line by line. */
  private static final class Lines {
    private final Book book;
    private final XSSFSheet sheet;
    private int next;

    Lines(Book book, XSSFSheet sheet) {
      this.book = book;
      this.sheet = sheet;
    }

    XSSFRow row() {
      return sheet.createRow(next++);
    }

    int last() {
      return next - 1;
    }

    void title(String text) {
      if (next > 0) {
        next++;
      }
      book.text(row(), 0, text, Look.TITLE);
    }

    void text(String label, String value) {
      XSSFRow row = row();
      book.text(row, 0, label, Look.LABEL);
      book.text(row, 1, value, Look.TEXT);
    }

    void number(String label, @org.jspecify.annotations.Nullable Number value) {
      XSSFRow row = row();
      book.text(row, 0, label, Look.LABEL);
      book.number(row, 1, value, Look.QUANTITY);
    }

    void specification(Heading h, Specification s) {
      text("Cable type", h.cableType().name());
      number("Velocity factor", h.cableType().velocityFactor());
      text("Connector", s.connector());
      number("Coupling torque, N·m", s.connectorTorqueNm());
      text("Method", h.method());
      text("Basis", s.basis().name());
      text("Turns", s.turns().name());
      number("Nominal length, mm", s.nominalLengthMm());
      number("Length tolerance ±, mm", s.nominalLengthToleranceMm());
      number("Trim allowance, mm", s.trimAllowanceMm());
      number("Cut step, mm", s.cutResolutionMm());
      if (h.stretcher() != null) {
        text("Line stretcher", h.stretcher().name());
        number("Fitted at, mm", s.stretcherStartMm());
      }
      number("Reference temperature, °C", s.referenceTemperatureC());
      text("Decision rule", h.decisionRule());
    }
  }

  /** The traveler of one assembly on a sheet of its own. */
  private static final class AssemblyPage {
    private static final int COLUMNS = 8;
    private final Book book;
    private final Heading heading;
    private final AssemblySheet assembly;
    private final String footer;
    private final XSSFSheet sheet;
    private final Lines lines;

    AssemblyPage(Book book, Heading heading, AssemblySheet assembly, String footer) {
      this.book = book;
      this.heading = heading;
      this.assembly = assembly;
      this.footer = footer;
      sheet = book.sheet(assembly.assembly().serial());
      lines = new Lines(book, sheet);
    }

    void write() {
      Task task = assembly.task();
      lines.title("Traveler " + assembly.assembly().serial());
      XSSFRow barcodeRow = lines.row();
      Book.height(barcodeRow, 13);
      book.text(barcodeRow, 0, "Barcode", Look.LABEL);
      book.barcode(sheet, barcodeRow.getRowNum(), 1, assembly.barcode(), 11);
      lines.text("Serial number", assembly.assembly().serial());
      lines.text("Order", heading.order().number());
      lines.text("Title", heading.order().title());
      lines.text("Revision", heading.order().revision());
      lines.text("Set", assembly.set() == null ? "" : assembly.set().name());
      lines.text("Position", assembly.position() == null ? "" : assembly.position().label());
      lines.specification(heading, heading.order().specification());
      lines.title("Instruction");
      XSSFRow action = lines.row();
      Book.height(action, 11);
      book.text(action, 0, task.text(), Look.ACTION);
      lines.text("Reason", task.reason());
      lines.number("Cut, mm", task.cutMm());
      lines.number("Stretcher setting, mm", task.settingMm());
      lines.number("From reading", assembly.reading() == null ? null : assembly.reading().id());
      lines.number("Instruction no.", task.instructionId());
      frequencies();
      steps();
      book.widths(sheet, 42, 62, 24, 24, 24, 24, 24, 24);
      sheet.createFreezePane(0, 1);
      book.print(sheet, false, false, lines.last(), COLUMNS - 1, footer);
    }

    private void frequencies() {
      lines.title("Phase");
      XSSFRow head = lines.row();
      List<String> names =
          List.of(
              "Frequency, GHz",
              "Tolerance ±, °",
              "Accepted within ±, °",
              "Target, °",
              "Measured, °",
              "Error, °",
              "Predicted, °",
              "Predicted error, °");
      for (int c = 0; c < names.size(); c++) {
        book.text(head, c, names.get(c), Look.HEAD);
      }
      for (Spot spot : assembly.spots()) {
        XSSFRow row = lines.row();
        book.number(row, 0, spot.frequencyHz() / 1e9, Look.QUANTITY);
        book.number(row, 1, spot.toleranceDeg(), Look.QUANTITY);
        book.number(row, 2, spot.acceptanceDeg(), Look.DEGREES);
        book.number(row, 3, spot.targetDeg(), Look.DEGREES);
        book.number(row, 4, spot.measuredDeg(), Look.DEGREES);
        book.number(row, 5, spot.errorDeg(), Look.SIGNED_DEGREES);
        book.number(row, 6, spot.predictedDeg(), Look.DEGREES);
        book.number(row, 7, spot.predictedErrorDeg(), Look.SIGNED_DEGREES);
      }
    }

    private void steps() {
      lines.title("Steps");
      XSSFRow head = lines.row();
      List<String> names = List.of("Step", "What", "Value of", "Value", "Initials", "Date");
      for (int c = 0; c < names.size(); c++) {
        book.text(head, c, names.get(c), Look.HEAD);
      }
      for (Step step : assembly.steps()) {
        XSSFRow row = lines.row();
        Book.height(row, 9);
        book.text(row, 0, step.name(), Look.LABEL);
        book.text(row, 1, step.what(), Look.WRAPPED);
        book.text(row, 2, step.value(), Look.WRAPPED);
        book.box(row, 3);
        book.box(row, 4);
        book.box(row, 5);
      }
      lines.title("Cautions");
      for (Caution caution : heading.cautions()) {
        XSSFRow row = lines.row();
        Book.height(row, 9);
        book.text(row, 0, caution.title(), Look.LABEL);
        book.text(row, 1, caution.text(), Look.WRAPPED);
        sheet.addMergedRegion(
            new CellRangeAddress(row.getRowNum(), row.getRowNum(), 1, COLUMNS - 1));
      }
    }
  }
}
