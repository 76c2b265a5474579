package org.equiphase.traveler;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.traveler.Book.Look;
import org.equiphase.traveler.Book.Page;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.SetSheet;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.web.Format;
import org.equiphase.workorder.FrequencySpecification;
import org.springframework.stereotype.Component;

/** Writes sheets as workbooks: numbers as numbers with their unit in the heading. */
@Component
class WorkbookWriter {

  private static final String STALE =
      "Valid only with the instruction numbers shown; check on screen before cutting.";

  private final Format format = Format.PLAIN;

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
    Facts facts = new Facts(book, sheet, 0, 1);
    facts.title("Trim instructions");
    facts.add("Title", h.order().title());
    facts.order(h.order());
    facts.add("Printed", format.time(h.printedAt()));
    facts.add("Validity", STALE);
    facts.title("Specification");
    facts.specification(h);
    facts.title("Frequencies");
    XSSFRow head = facts.row();
    book.text(head, 0, "Frequency, GHz", Look.HEAD);
    book.text(head, 1, "Tolerance ±, °", Look.HEAD);
    for (FrequencySpecification f : h.order().specification().frequencies()) {
      XSSFRow row = facts.row();
      book.number(row, 0, f.frequencyHz() / 1e9, Look.QUANTITY);
      book.number(row, 1, f.toleranceDeg(), Look.QUANTITY);
    }
    facts.title("Where they stand");
    facts.add("Sets", data.sets().size());
    facts.add("Assemblies", data.assemblies().size());
    Map<Task.Kind, Integer> counts = new EnumMap<>(Task.Kind.class);
    data.assemblies().forEach(a -> counts.merge(a.task().kind(), 1, Integer::sum));
    counts.forEach((kind, count) -> facts.add("Assemblies " + kind.label(), count));
    book.widths(sheet, 60, 120);
    sheet.createFreezePane(0, 1);
    book.print(sheet, Page.PORTRAIT, facts.next() - 1, 1, footer(h));
  }

  private void members(Book book, String name, SheetData data, List<AssemblySheet> assemblies) {
    XSSFSheet sheet = book.sheet(name);
    MemberTable table = new MemberTable(book, sheet, data.heading(), assemblies);
    table.write();
    int frequencies = data.heading().order().specification().frequencies().size();
    Page page = frequencies > 1 ? Page.LANDSCAPE_A3 : Page.LANDSCAPE;
    sheet.createFreezePane(3, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, page, table.lastRow(), table.lastColumn(), footer(data.heading()));
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
      book.text(row, 0, caution.title(), Look.TEXT);
      book.text(row, 1, caution.text(), Look.TEXT);
    }
    book.widths(sheet, 50, 120);
    sheet.createFreezePane(0, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, Page.PORTRAIT, r - 1, 1, footer(heading));
  }
}
