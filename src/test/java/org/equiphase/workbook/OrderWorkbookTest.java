package org.equiphase.workbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.traveler.TravelerShop;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTScaling;
import tools.jackson.databind.JsonNode;

/** The order's workbook, downloaded, read back and computed anew by another engine. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class OrderWorkbookTest {

  private static final double RELATIVE = 1e-9;
  private static final String[] GHZ = {"2.76", "2.84"};

  private final RunningService service;
  private TravelerShop shop;
  private FilledBook book;

  OrderWorkbookTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void download() {
    shop = TravelerShop.trimming(service);
    book = new FilledBook(workbook(shop));
  }

  private byte[] workbook(TravelerShop of) {
    return service
        .api(Role.PLANNER)
        .download("/api/v1/workorders/" + of.orderPath() + "/workbook.xlsx")
        .body();
  }

  private static void same(double value, double expected) {
    assertThat(value).isCloseTo(expected, within(RELATIVE * Math.abs(expected)));
  }

  @Test
  void hasASheetForEachThing() {
    List<String> names = new ArrayList<>();
    book.book.forEach(sheet -> names.add(sheet.getSheetName()));
    assertThat(names)
        .containsExactly(
            "Summary", "Instructions", "Set A", "Specification", "Readings", "Change log");
  }

  /**
   * Evaluated by POI from the cells alone: the cut from error, aim and slope; the slope from
   * frequency and velocity factor, 360·f/(v·c); the expected error from all of them.
   */
  @Test
  void formulasOfACutAgreeWithTheEngine() {
    JsonNode member = shop.member(2);
    String serial = shop.serial(2);
    assertThat(book.cell(serial, "Cut, mm").getCellType()).isEqualTo(CellType.FORMULA);
    same(book.value(serial, "Cut, mm"), member.get("current").get("trimMm").asDouble());
    for (int k = 0; k < GHZ.length; k++) {
      same(
          book.value(serial, "Slope at " + GHZ[k] + " GHz, °/mm"),
          360 * TravelerShop.FREQUENCIES_HZ[k] / (0.695 * 299_792_458) / 1e3);
      JsonNode spot = member.get("spots").get(k);
      same(book.value(serial, "Error at " + GHZ[k] + " GHz, °"), spot.get("errorDeg").asDouble());
      assertThat(book.value(serial, "Expected afterwards at " + GHZ[k] + " GHz, °"))
          .isCloseTo(
              spot.get("predictedErrorDeg").asDouble(),
              within(RELATIVE * Math.abs(spot.get("errorDeg").asDouble())));
    }
  }

  @Test
  void formulasOfASettingAgreeWithTheEngine() {
    TravelerShop stretching = TravelerShop.stretching(service);
    FilledBook settings = new FilledBook(workbook(stretching));
    String serial = stretching.serial(2);
    JsonNode member = stretching.member(2);
    assertThat(settings.cell(serial, "Setting, mm").getCellType()).isEqualTo(CellType.FORMULA);
    same(settings.value(serial, "Setting, mm"), member.get("current").get("settingMm").asDouble());
    // A folded line of air index 1 adds two millimetres for each of its setting.
    same(settings.value(serial, "Slope at 2.84 GHz, °/mm"), -2 * 360 * 2.84e9 / 299_792_458 / 1e3);
    JsonNode spot = member.get("spots").get(1);
    assertThat(settings.value(serial, "Expected afterwards at 2.84 GHz, °"))
        .isCloseTo(
            spot.get("predictedErrorDeg").asDouble(),
            within(RELATIVE * Math.abs(spot.get("errorDeg").asDouble())));
  }

  @Test
  void theFormulasFollowTheirCells() {
    FilledBook other = new FilledBook(workbook(shop));
    String serial = shop.serial(2);
    double cutMm = other.value(serial, "Cut, mm");
    double slope = other.value(serial, "Slope at 2.76 GHz, °/mm");
    double errorDeg = other.value(serial, "Error at 2.76 GHz, °");
    other.fill(serial, "Error at 2.76 GHz, °", errorDeg - slope);
    assertThat(other.value(serial, "Cut, mm")).isCloseTo(cutMm + 1, within(1e-9));
  }

  @Test
  void onlyTheCellsOfTheFloorCanBeChanged() {
    assertThat(book.sheet.isSheetLocked()).isTrue();
    String serial = shop.serial(2);
    for (String open :
        List.of("Really cut, mm", "Shown after at 2.76 GHz, °", "Bench", "Initials")) {
      assertThat(book.cell(serial, open).getCellStyle().getLocked()).as(open).isFalse();
    }
    for (String closed : List.of("Serial number", "Cut, mm", "Row key")) {
      assertThat(book.cell(serial, closed).getCellStyle().getLocked()).as(closed).isTrue();
    }
    assertThat(book.sheet.isColumnHidden(book.column("Row key"))).isTrue();
    assertThat(book.sheet.getDataValidations()).hasSizeGreaterThanOrEqualTo(6);
    assertThat(book.sheet.getPrintSetup().getLandscape()).isTrue();
    assertThat(book.sheet.getRepeatingRows().formatAsString()).isEqualTo("1:3");
    assertThat(book.sheet.getHeader().getCenter()).startsWith("A cut can't be undone");
    assertThat(book.sheet.getFooter().getRight()).isEqualTo("Page &P of &N");
  }

  @Test
  void stylesHaveNames() {
    String named = book.book.getStylesSource().getCTStylesheet().xmlText();
    assertThat(named).contains("name=\"Equiphase fill_number\"", "name=\"Normal\"");
  }

  @Test
  void aSetHasItsChartOfErrorsAgainstTheBand() {
    XSSFSheet set = book.book.getSheet("Set A");
    assertThat(set.getDrawingPatriarch().getCharts()).hasSize(1);
    String chart = set.getDrawingPatriarch().getCharts().get(0).getCTChart().xmlText();
    assertThat(chart).contains("'Set A'!$D$2:$D$5", "'Set A'!$F$2:$F$5", "'Set A'!$G$2:$G$5");
  }

  /** One member 48° off leaves the band wide, and is marked near the edge. */
  @Test
  void aMemberFarOffDoesNotFlattenTheChart() {
    XSSFSheet set = book.book.getSheet("Set A");
    CTScaling scale =
        set.getDrawingPatriarch()
            .getCharts()
            .get(0)
            .getCTChart()
            .getPlotArea()
            .getValAxArray(0)
            .getScaling();
    double bandDeg = set.getRow(1).getCell(6).getNumericCellValue();
    double edgeDeg = scale.getMax().getVal();
    assertThat(scale.getMin().getVal()).isEqualTo(-edgeDeg);
    assertThat(edgeDeg).isBetween(4 * bandDeg, 6 * bandDeg);
    int beyond = set.getRow(0).getLastCellNum() - 1;
    assertThat(set.getRow(0).getCell(beyond).getStringCellValue()).startsWith("Beyond the chart");
    assertThat(set.getRow(3).getCell(3).getNumericCellValue()).isGreaterThan(40);
    assertThat(set.getRow(3).getCell(beyond).getNumericCellValue())
        .isBetween(0.9 * edgeDeg, edgeDeg);
    assertThat(set.getRow(1).getCell(beyond).getCellType()).isEqualTo(CellType.BLANK);
  }

  /** Text that begins like a formula: CWE-1236. */
  @Test
  void textNeverBecomesAFormula() {
    int guarded = 0;
    for (var sheet : book.book) {
      for (var row : sheet) {
        for (Cell cell : row) {
          if (cell.getCellType() == CellType.STRING
              && cell.getStringCellValue().matches("(?s)[=+\\-@\\t\\r].*")) {
            assertThat(cell.getCellStyle().getQuotePrefixed()).isTrue();
            guarded++;
          }
          if (cell.getCellType() == CellType.FORMULA) {
            assertThat(cell.getSheet()).isEqualTo(book.sheet);
            assertThat(cell.getCellFormula()).doesNotContainIgnoringCase("HYPERLINK");
          }
        }
      }
    }
    // The title once, and three of the four position labels on two sheets.
    assertThat(guarded).isEqualTo(7);
  }

  @Test
  void speaksGerman() {
    byte[] german =
        service
            .pages(Role.TECHNICIAN)
            .reading("de")
            .download("/traveler/workorders/" + shop.orderPath() + "/instructions.xlsx")
            .body();
    FilledBook instructions = new FilledBook(german);
    assertThat(instructions.book.getSheetName(1)).isEqualTo("Anweisungen");
    assertThat(instructions.heads())
        .contains("Seriennummer", "Fehler bei 2.76 GHz, °", "Wirklich geschnitten, mm");
  }
}
