package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.HashMap;
import java.util.Map;
import javax.imageio.ImageIO;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFPicture;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.sheet.Barcodes;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;

/** Every workbook, downloaded and read back. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class TravelerWorkbookTest {

  private final RunningService service;
  private TravelerShop shop;

  TravelerWorkbookTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void order() {
    shop = TravelerShop.trimming(service);
  }

  @Test
  void settingsAreInTheirOwnColumn() throws IOException {
    TravelerShop stretching = TravelerShop.stretching(service);
    try (XSSFWorkbook book = book("/traveler/sets/" + stretching.setId + ".xlsx")) {
      Cells row = row(book.getSheet("Set A"), 2);
      assertNumber(
          row.get("Stretcher setting, mm"),
          stretching.member(2).get("current").get("settingMm").asDouble());
      assertThat(row.get("Cut, mm").getCellType()).isEqualTo(CellType.BLANK);
    }
  }

  @Test
  void barcodesStandInTheRowsOfTheirSerials() throws IOException {
    try (XSSFWorkbook book = setBook()) {
      XSSFSheet sheet = book.getSheet("Set A");
      Map<Integer, String> texts = new HashMap<>();
      for (var shape : sheet.getDrawingPatriarch().getShapes()) {
        XSSFPicture picture = (XSSFPicture) shape;
        XSSFClientAnchor anchor = picture.getClientAnchor();
        byte[] png = picture.getPictureData().getData();
        texts.put(
            anchor.getRow1(),
            Barcodes.in(ImageIO.read(new ByteArrayInputStream(png))).orElse("unreadable"));
        assertThat(anchor.getCol2()).isEqualTo(anchor.getCol1());
      }
      assertThat(texts).hasSize(4);
      texts.forEach(
          (row, text) ->
              assertThat(text)
                  .isEqualTo(row(sheet, row).get("Serial number").getStringCellValue() + "/A"));
    }
  }

  @Test
  void sheetsPrintWithHeadersAndPageNumbers() throws IOException {
    try (XSSFWorkbook book = setBook()) {
      XSSFSheet sheet = book.getSheet("Set A");
      assertThat(sheet.getPaneInformation().isFreezePane()).isTrue();
      assertThat(sheet.getPaneInformation().getHorizontalSplitPosition()).isEqualTo((short) 1);
      assertThat(sheet.getRepeatingRows().formatAsString()).isEqualTo("1:1");
      assertThat(sheet.getPrintSetup().getLandscape()).isTrue();
      assertThat(sheet.getFitToPage()).isTrue();
      assertThat(sheet.getPrintSetup().getFitWidth()).isEqualTo((short) 1);
      assertThat(sheet.getPrintSetup().getFitHeight()).isZero();
      assertThat(book.getPrintArea(book.getSheetIndex(sheet))).endsWith("$5").contains("$A$1");
      for (int i = 0; i < book.getNumberOfSheets(); i++) {
        XSSFSheet each = book.getSheetAt(i);
        assertThat(each.getFooter().getRight()).isEqualTo("Page &P of &N");
        // The order's number has an ampersand, which a footer doubles.
        assertThat(each.getFooter().getLeft())
            .contains(shop.order.replace("&", "&&") + " rev A", "check on screen before cutting");
        assertThat(book.getPrintArea(i)).isNotNull();
        assertThat(each.getPaneInformation().isFreezePane()).isTrue();
      }
      assertThat(book.getNumCellStyles()).isLessThan(50);
    }
  }

  /** Text that begins like a formula: CWE-1236. */
  @Test
  void textNeverBecomesAFormula() throws IOException {
    try (XSSFWorkbook book = setBook()) {
      int guarded = 0;
      for (var sheet : book) {
        for (Row row : sheet) {
          for (Cell cell : row) {
            assertThat(cell.getCellType()).isNotEqualTo(CellType.FORMULA);
            if (cell.getCellType() == CellType.STRING
                && cell.getStringCellValue().matches("(?s)[=+\\-@\\t\\r].*")) {
              assertThat(cell.getCellStyle().getQuotePrefixed()).isTrue();
              guarded++;
            }
          }
        }
      }
      // Three of the four position labels, on the set's sheet and on the members'; and on each of
      // the members' four sheets the title.
      assertThat(guarded).isEqualTo(3 + 3 + 4);
    }
  }

  @Test
  void setWorkbookHasASheetForEachMember() throws IOException {
    try (XSSFWorkbook book = book("/api/v1/traveler/sets/" + shop.setId + ".xlsx")) {
      assertThat(book.getNumberOfSheets()).isEqualTo(6);
      assertThat(book.getSheet("Set A").getLastRowNum()).isEqualTo(4);
      for (String serial : shop.members()) {
        Cells facts = facts(book.getSheet(serial));
        assertThat(facts.get("Serial number").getStringCellValue()).isEqualTo(serial);
        assertThat(facts.byName())
            .containsKeys("Strip", "Re-measure", "Final inspection", "Solder.");
      }
      assertThat(book.getSheet(shop.serial(2)).getRow(3).getCell(0).getStringCellValue())
          .startsWith("Cut 3.");
    }
  }

  @Test
  void assemblyWorkbookHoldsItsNumbers() throws IOException {
    try (XSSFWorkbook book = book("/traveler/assemblies/" + shop.serial(2) + ".xlsx")) {
      Cells facts = facts(book.getSheet(shop.serial(2)));
      double cutMm = shop.member(2).get("current").get("trimMm").asDouble();
      assertNumber(facts.get("Cut, mm"), cutMm);
      assertNumber(facts.get("Cut, in"), cutMm / 25.4);
      assertThat(facts.get("Position").getStringCellValue()).isEqualTo("=2+2");
      assertThat(facts.get("Position").getCellStyle().getQuotePrefixed()).isTrue();
    }
  }

  /** Cells by their headings or labels. */
  private record Cells(Map<String, Cell> byName) {
    Cell get(String name) {
      Cell cell = byName.get(name);
      if (cell == null) {
        throw new AssertionError("no \"" + name + "\" among " + byName.keySet());
      }
      return cell;
    }
  }

  private XSSFWorkbook setBook() throws IOException {
    return book("/traveler/sets/" + shop.setId + ".xlsx");
  }

  private XSSFWorkbook book(String path) throws IOException {
    HttpResponse<byte[]> answer =
        path.startsWith("/api")
            ? service.api(Role.PLANNER).download(path)
            : service.pages(Role.QA).download(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type").orElse(""))
        .endsWith("spreadsheetml.sheet");
    return new XSSFWorkbook(new ByteArrayInputStream(answer.body()));
  }

  /** The cells of a row by their headings. */
  private static Cells row(XSSFSheet sheet, int index) {
    Map<String, Cell> cells = new HashMap<>();
    for (Cell head : sheet.getRow(0)) {
      cells.put(head.getStringCellValue(), sheet.getRow(index).getCell(head.getColumnIndex()));
    }
    return new Cells(cells);
  }

  /** The cells of the second column by the labels in the first. */
  private static Cells facts(XSSFSheet sheet) {
    Map<String, Cell> cells = new HashMap<>();
    for (Row row : sheet) {
      Cell label = row.getCell(0);
      if (label != null && label.getCellType() == CellType.STRING && row.getCell(1) != null) {
        cells.putIfAbsent(label.getStringCellValue(), row.getCell(1));
      }
    }
    return new Cells(cells);
  }

  private static void assertNumber(Cell cell, double expected) {
    assertThat(cell.getCellType()).isEqualTo(CellType.NUMERIC);
    assertThat(cell.getNumericCellValue()).isCloseTo(expected, within(1e-9));
  }
}
