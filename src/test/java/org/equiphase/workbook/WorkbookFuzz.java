package org.equiphase.workbook;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Locale;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.sheet.Words;
import org.equiphase.web.InvalidInputException;

/** Reads whatever bytes as a workbook that comes back; also what a coverage-guided fuzzer calls. */
public final class WorkbookFuzz {

  private static final Layout LAYOUT = Layout.widest(WorkbookLoad.SPECIFICATION);

  private static final long MOST_BYTES = 40L * 1024 * 1024;

  private WorkbookFuzz() {}

  public static void fuzzerTestOneInput(byte[] file) {
    try {
      new WorkbookReader(LAYOUT, MOST_BYTES).read(file);
    } catch (InvalidInputException e) {
      return;
    }
  }

  /** A small workbook as it comes back, with formulas, numbers and texts. */
  public static byte[] good() {
    try (XSSFWorkbook book = new XSSFWorkbook();
        ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      Words words = new Words(Locale.ENGLISH);
      var sheet = book.createSheet();
      XSSFRow head = sheet.createRow(2);
      for (Field field : LAYOUT.fields()) {
        head.createCell(LAYOUT.column(field)).setCellValue(words.say(field.head()));
      }
      for (int r = 3; r < 6; r++) {
        XSSFRow row = sheet.createRow(r);
        for (Field field : LAYOUT.fields()) {
          var cell = row.createCell(LAYOUT.column(field));
          switch (LAYOUT.column(field) % 3) {
            case 0 -> cell.setCellValue("A-" + r);
            case 1 -> cell.setCellValue(r * 1.5);
            default -> cell.setCellFormula("A1*2");
          }
        }
      }
      book.write(out);
      return out.toByteArray();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
