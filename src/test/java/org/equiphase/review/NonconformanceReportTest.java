package org.equiphase.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/**
 * A cut that went too far, accepted as it is: the report of the decision, downloaded and read back.
 */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class NonconformanceReportTest {

  private final RunningService service;
  private ReviewShop review;
  private String serial;
  private JsonNode decision;
  private JsonNode instruction;
  private long firstReading;
  private long lastReading;

  NonconformanceReportTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void decide() {
    review = new ReviewShop(service);
    SmallShop shop = review.shop;
    long setId = shop.order(3, "SET", "ABSOLUTE", "", ReviewShop.SIMPLE);
    serial = shop.serial(1);
    firstReading = shop.measure(serial, 1004);
    shop.measure(shop.serial(2), 1000);
    shop.measure(shop.serial(3), 1000.1);
    instruction = shop.member(setId, serial).get("current");
    shop.signOff(instruction, 5.2);
    // 1.2 mm shorter than the others is 5.8°, nearly twice the tolerance of 3°.
    lastReading = shop.measure(serial, 998.8);
    decision = review.decided(serial, "CONCESSION", "");
    review.countersign(review.second, decision.get("id").asLong(), true);
    decision = review.disposition(decision.get("id").asLong());
    shop.measure(serial, 998.9);
  }

  private String path(String file) {
    return "/api/v1/review/dispositions/" + decision.get("id").asLong() + "/" + file;
  }

  /** Phases of ideal cables, −360·f·L/(v·c) (conventions of any transmission-line text). */
  @Test
  void pdfSaysWhatWasFoundDecidedAndSigned() throws IOException {
    JsonNode spot = decision.get("numbers").get("spots").get(0);
    double errorDeg = spot.get("errorDeg").asDouble();
    assertThat(errorDeg).isBetween(6.0, 10.0);
    byte[] file = review.qa.download(path("report.pdf")).body();
    Files.write(Path.of("target/report.pdf"), file);
    try (PDDocument pdf = Loader.loadPDF(file)) {
      String text = text(pdf);
      assertThat(text)
          .contains("Nonconformance report " + decision.get("id").asLong(), serial)
          .contains(review.shop.orderNumber() + " rev A", "in force")
          .contains(deg(errorDeg), deg(2 * spot.get("standardUncertaintyDeg").asDouble()))
          .contains(deg(spot.get("targetPhaseDeg").asDouble()), "phase out of tolerance")
          .contains("as found at final inspection", "agreed")
          .contains(decision.get("signatures").get(1).get("displayName").asString())
          .contains(decision.get("sha256").asString())
          .contains("" + firstReading, "" + lastReading)
          .contains(instruction.get("id").asString(), "5.2")
          .contains(deg(instruction.get("predictions").get(0).get("predictedErrorDeg").asDouble()))
          .contains(deg(SmallShop.phaseDeg(1004)), deg(SmallShop.phaseDeg(998.8)))
          .doesNotContain(deg(SmallShop.phaseDeg(998.9)));
    }
  }

  @Test
  void workbookTellsThePredictionBesideTheOutcome() throws IOException {
    byte[] file = review.qa.download(path("report.xlsx")).body();
    Files.write(Path.of("target/report.xlsx"), file);
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(file))) {
      XSSFRow work = workbook.getSheet("Cuts and settings").getRow(1);
      JsonNode prediction = instruction.get("predictions").get(0);
      assertThat(work.getCell(0).getNumericCellValue()).isEqualTo(instruction.get("id").asDouble());
      assertThat(work.getCell(5).getNumericCellValue()).isEqualTo(5.2);
      assertThat(work.getCell(8).getNumericCellValue())
          .isEqualTo(prediction.get("errorDeg").asDouble());
      assertThat(work.getCell(9).getNumericCellValue())
          .isEqualTo(prediction.get("predictedErrorDeg").asDouble());
      // What came off changed the phase by 5.2 mm of cable.
      assertThat(work.getCell(10).getNumericCellValue())
          .isCloseTo(
              prediction.get("errorDeg").asDouble() + 5.2 * SmallShop.degPerMm(), within(1e-6));
      assertThat(workbook.getSheet("Readings").getLastRowNum()).isEqualTo(2);
      XSSFRow finding = workbook.getSheet("What was found").getRow(1);
      assertThat(finding.getCell(1).getNumericCellValue())
          .isEqualTo(decision.get("numbers").get("spots").get(0).get("errorDeg").asDouble());
      assertThat(workbook.getSheet("Signatures").getLastRowNum()).isEqualTo(2);
    }
  }

  @Test
  void germanReaderGetsGermanWords() throws IOException {
    byte[] file =
        service
            .pages(Role.TECHNICIAN)
            .reading("de-DE")
            .download("/review/dispositions/" + decision.get("id").asLong() + "/report.pdf")
            .body();
    try (PDDocument pdf = Loader.loadPDF(file)) {
      assertThat(text(pdf))
          .contains("Abweichungsbericht", "Phase außer Toleranz", "Sonderfreigabe", "Seite 1 von")
          .doesNotContain("Nonconformance");
    }
  }

  @Test
  void aSupersededDecisionSaysSo() throws IOException {
    JsonNode later = review.decided(serial, "REMEASURE", "");
    try (PDDocument pdf = Loader.loadPDF(review.qa.download(path("report.pdf")).body())) {
      assertThat(text(pdf))
          .contains("Superseded by decision " + later.get("id").asLong() + ": no longer in force.");
    }
    assertThat(review.qa.get("/api/v1/review/dispositions/999999999/report.pdf").statusCode())
        .isEqualTo(404);
    assertThat(ApiClient.json(review.qa.get(path("report.pdf?paper=a5"))).get("detail").asString())
        .contains("give a4 or letter");
  }

  /** Two decimals and a minus sign as the sheets write them. */
  private static String deg(double degrees) {
    return String.format(Locale.ROOT, "%.2f", degrees).replace('-', '−');
  }

  private static String text(PDDocument pdf) throws IOException {
    return new PDFTextStripper().getText(pdf).replaceAll("\\s+", " ");
  }
}
