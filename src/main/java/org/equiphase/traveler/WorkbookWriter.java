package org.equiphase.traveler;

import java.util.List;
import java.util.Locale;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.sheet.Book;
import org.equiphase.sheet.Book.Look;
import org.equiphase.sheet.Book.Page;
import org.equiphase.sheet.Words;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Caution;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.SetSheet;
import org.equiphase.web.Format;
import org.springframework.stereotype.Component;

/** Writes sheets as workbooks: numbers as numbers with their unit in the heading. */
@Component
class WorkbookWriter {

  private final Format format = Format.PLAIN;

  /** Travelers: for each set its members on one sheet, then a sheet per assembly. */
  byte[] travelers(SheetData data, Locale locale) {
    Book book = new Book(new Words(locale));
    for (SetSheet set : data.sets()) {
      members(book, book.words().text("traveler.book.set", set.set().name()), data, set.members());
    }
    for (AssemblySheet assembly : data.assemblies()) {
      new AssemblyPage(book, data.heading(), assembly, footer(book, data.heading())).write();
    }
    cautions(book, data.heading());
    return book.bytes();
  }

  private String footer(Book book, Heading heading) {
    Words words = book.words();
    return words.text(
            "traveler.footer",
            heading.order().number(),
            heading.order().revision(),
            format.time(heading.printedAt()))
        + "\n"
        + words.text("traveler.valid");
  }

  private void members(Book book, String name, SheetData data, List<AssemblySheet> assemblies) {
    XSSFSheet sheet = book.sheet(name);
    MemberTable table = new MemberTable(book, sheet, data.heading(), assemblies);
    table.write();
    int frequencies = data.heading().order().specification().frequencies().size();
    Page page = frequencies > 1 ? Page.LANDSCAPE_A3 : Page.LANDSCAPE;
    sheet.createFreezePane(3, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, page, table.lastRow(), table.lastColumn(), footer(book, data.heading()));
  }

  private void cautions(Book book, Heading heading) {
    Words words = book.words();
    XSSFSheet sheet = book.sheet(words.text("traveler.cautions"));
    XSSFRow head = sheet.createRow(0);
    book.text(head, 0, words.text("traveler.book.caution"), Look.HEAD);
    book.text(head, 1, words.text("traveler.book.whatToDo"), Look.HEAD);
    int r = 1;
    for (Caution caution : heading.cautions()) {
      XSSFRow row = sheet.createRow(r++);
      Book.height(row, 12);
      book.text(row, 0, words.say(caution.title()), Look.TEXT);
      book.text(row, 1, words.say(caution.text()), Look.TEXT);
    }
    book.widths(sheet, 50, 120);
    sheet.createFreezePane(0, 1);
    sheet.setRepeatingRows(CellRangeAddress.valueOf("1:1"));
    book.print(sheet, Page.PORTRAIT, r - 1, 1, footer(book, heading));
  }
}
