package org.equiphase.release;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;
import org.equiphase.release.Certificate.ChainEnd;
import org.equiphase.release.Certificate.Signature;
import org.equiphase.release.CertifiedSet.Equipment;
import org.equiphase.release.CertifiedSet.Limit;
import org.equiphase.release.CertifiedSet.Member;
import org.equiphase.release.CertifiedSet.Requirement;
import org.equiphase.release.CertifiedSet.Spot;
import org.equiphase.release.CertifiedSet.Spread;
import org.equiphase.release.CertifiedSet.Subject;
import org.equiphase.release.CertifiedSet.Taken;
import org.equiphase.rf.Method;
import org.equiphase.sheet.Barcodes;
import org.equiphase.sheet.Paper;
import org.equiphase.sheet.PdfWriter;
import org.equiphase.workorder.DecisionRule;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Certificates, downloaded and read back. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CertificateTest {

  private static final int DPI = 200;

  private final RunningService service;
  private ReleaseShop shop;
  private JsonNode release;
  private JsonNode plan;

  CertificateTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void release() {
    shop = ReleaseShop.matched(service, "\"decisionRule\": \"GUARDED\",");
    plan = shop.shop.plan(shop.setId);
    release = shop.release();
  }

  private String path(String file) {
    return "/release/" + release.get("id").asLong() + "/" + file;
  }

  /**
   * U = k·u with k = 2, u the root sum of squares of the contributions (JCGM 100, 5.1.2 and 6.2.1);
   * acceptance limit = tolerance less U (JCGM 106, 8.3); probability of conformity of a normal
   * distribution between two limits (JCGM 106, 7.4).
   */
  @Test
  void numbersAreThoseOfThePlanAndOfAComputationByHand() {
    JsonNode set = ApiClient.json(shop.qa.get("/api/v1" + path("certificate.json"))).get("set");
    double largestDeg = 0;
    double smallestDeg = 0;
    for (int i = 0; i < ReleaseShop.LENGTHS_MM.size(); i++) {
      JsonNode member = set.get("members").get(i);
      JsonNode spot = member.get("spots").get(0);
      JsonNode planned = plan.get("members").get(i).get("spots").get(0);
      double sumOfSquares = 0;
      for (JsonNode part : planned.get("contributions")) {
        sumOfSquares += Math.pow(part.get("value").asDouble(), 2);
      }
      double expandedDeg = 2 * Math.sqrt(sumOfSquares);
      double errorDeg = spot.get("errorDeg").asDouble();
      double u = spot.get("errorExpandedDeg").asDouble() / 2;
      NormalDistribution normal = NormalDistribution.of(errorDeg, u);
      double probability = normal.probability(-3, 3);

      assertThat(member.get("serial").asString()).isEqualTo(shop.shop.serial(i + 1));
      assertThat(Math.IEEEremainder(spot.get("phaseDeg").asDouble(), 360))
          .isCloseTo(SmallShop.phaseDeg(ReleaseShop.LENGTHS_MM.get(i)), within(1e-6));
      assertThat(errorDeg).isEqualTo(planned.get("errorDeg").asDouble());
      assertThat(spot.get("targetDeg").asDouble() + errorDeg)
          .isCloseTo(spot.get("phaseDeg").asDouble(), within(1e-9));
      assertThat(spot.get("phaseExpandedDeg").asDouble()).isCloseTo(expandedDeg, within(1e-9));
      assertThat(spot.get("acceptanceDeg").asDouble()).isCloseTo(3 - 2 * u, within(1e-9));
      assertThat(member.get("probabilityIn").asDouble()).isCloseTo(probability, within(1e-6));
      largestDeg = Math.max(largestDeg, errorDeg);
      smallestDeg = Math.min(smallestDeg, errorDeg);
    }
    // 0.4 mm between the shortest and the longest.
    assertThat(largestDeg - smallestDeg).isCloseTo(0.4 * SmallShop.degPerMm(), within(1e-6));
    assertThat(set.get("spreads").get(0).get("errorDeg").asDouble())
        .isCloseTo(0.4 * SmallShop.degPerMm(), within(1e-6));
  }

  @Test
  void pdfSaysAllOfIt() throws IOException {
    JsonNode members = plan.get("members");
    byte[] file = shop.qa.download("/api/v1" + path("certificate.pdf")).body();
    try (PDDocument pdf = Loader.loadPDF(file)) {
      String text = text(pdf);
      assertThat(text)
          .contains("Certificate of match", release.get("number").asString())
          .contains(shop.shop.orderNumber() + " rev A", "Guarded acceptance (JCGM 106:2012")
          .contains(release.get("sha256").asString(), release.get("auditHash").asString())
          .contains("packed by position", "Couple to 0.9 N·m", "bend radius", "Page 1 of")
          .contains("analyzer (invented)", "2030-01-01", "1.94")
          .doesNotContain("Withdrawn");
      for (JsonNode member : members) {
        JsonNode spot = member.get("spots").get(0);
        assertThat(text)
            .contains(member.get("assembly").get("serial").asString())
            .contains(deg(spot.get("sum").get("phaseDeg").asDouble()))
            .contains(deg(spot.get("targetPhaseDeg").asDouble()))
            .contains(deg(spot.get("errorDeg").asDouble()))
            .contains(deg(2 * spot.get("standardUncertaintyDeg").asDouble()))
            .contains(deg(spot.get("acceptanceDeg").asDouble()))
            .contains(member.get("reading").get("id").asString());
      }
      assertThat(Barcodes.on(page(pdf, 0)))
          .containsExactly(
              release.get("number").asString()
                  + " "
                  + release.get("sha256").asString().substring(0, 12));
    }
  }

  @Test
  void workbookHoldsTheSameNumbersInFull() throws IOException {
    byte[] file = shop.qa.download("/api/v1" + path("certificate.xlsx")).body();
    try (XSSFWorkbook workbook = new XSSFWorkbook(new ByteArrayInputStream(file))) {
      XSSFSheet phases = workbook.getSheet("Phases");
      for (int i = 0; i < ReleaseShop.LENGTHS_MM.size(); i++) {
        XSSFRow row = phases.getRow(i + 1);
        JsonNode spot = plan.get("members").get(i).get("spots").get(0);
        assertThat(row.getCell(1).getStringCellValue()).isEqualTo(shop.shop.serial(i + 1));
        assertThat(row.getCell(2).getNumericCellValue()).isEqualTo(2.8);
        assertThat(row.getCell(3).getNumericCellValue())
            .isEqualTo(spot.get("sum").get("phaseDeg").asDouble());
        assertThat(row.getCell(6).getNumericCellValue()).isEqualTo(spot.get("errorDeg").asDouble());
        assertThat(row.getCell(7).getNumericCellValue())
            .isEqualTo(2 * spot.get("standardUncertaintyDeg").asDouble());
        assertThat(row.getCell(10).getNumericCellValue()).isEqualTo(1.2);
      }
      XSSFSheet members = workbook.getSheet("Members");
      assertThat(members.getRow(1).getCell(10).getNumericCellValue())
          .isEqualTo(plan.get("members").get(0).get("reading").get("id").asDouble());
      assertThat(
              workbook.getSheet("Certificate of match").getRow(2).getCell(1).getStringCellValue())
          .isEqualTo(release.get("number").asString());
      assertThat(workbook.getSheet("Equipment").getRow(1).getCell(3).getStringCellValue())
          .isEqualTo("2030-01-01");
    }
  }

  @Test
  void germanReaderGetsGermanWordsAndTheSameNumbers() throws IOException {
    byte[] file = service.pages(Role.QA).reading("de-DE").download(path("certificate.pdf")).body();
    try (PDDocument pdf = Loader.loadPDF(file)) {
      assertThat(text(pdf))
          .contains("Abgleichzertifikat", "Annahme mit Schutzabstand", "Seite 1 von")
          .contains(release.get("sha256").asString(), "1.94")
          .doesNotContain("Certificate", "Members");
    }
  }

  @Test
  void pagesShowItToEveryone() {
    var technician = service.pages(Role.TECHNICIAN);
    assertThat(technician.get("/release/" + release.get("id").asLong()).body())
        .contains(release.get("sha256").asString(), "packed by position")
        .doesNotContain("Sign and withdraw");
    assertThat(technician.get("/sets/" + shop.setId).body())
        .contains("/release/sets/" + shop.setId, "RELEASED");
    assertThat(technician.get("/release?number=" + shop.shop.orderNumber()).body())
        .contains(release.get("number").asString());
  }

  /** 64 members at four frequencies, as large as a panel comes. */
  @Test
  void manyMembersTakeManyPagesWithTheirHeads() throws IOException {
    CertificateSheet sheet = panel(64);
    for (Paper paper : Paper.values()) {
      byte[] file =
          service.bean(PdfWriter.class).write("release/certificate", sheet, paper, Locale.ENGLISH);
      Files.write(Path.of("target/certificate-" + paper + ".pdf"), file);
      try (PDDocument pdf = Loader.loadPDF(file)) {
        int pages = pdf.getNumberOfPages();
        assertThat(pages).isBetween(6, 12);
        int rows = 0;
        for (int page = 1; page <= pages; page++) {
          String text = text(pdf, page);
          int here = text.split("PANEL-\\d\\d 2\\.", -1).length - 1;
          rows += here;
          assertThat(text).contains("Page " + page + " of " + pages, "Certificate CM-1-1");
          if (here > 0) {
            assertThat(text).contains("Serial number", "Target");
          }
        }
        assertThat(rows).isEqualTo(64 * 4);
        assertThat(pdf.getPage(0).getMediaBox().getWidth())
            .isCloseTo(paper == Paper.A4 ? 595.28f : 612f, within(1f));
      }
    }
  }

  static CertificateSheet panel(int count) {
    double[] frequenciesHz = {2.76e9, 2.78e9, 2.8e9, 2.82e9};
    List<Member> members = new ArrayList<>();
    for (int i = 1; i <= count; i++) {
      List<Spot> spots = new ArrayList<>();
      for (double f : frequenciesHz) {
        double errorDeg = (i % 9 - 4) * 0.4;
        spots.add(
            new Spot(
                f,
                -17000 - f / 1e8 + errorDeg,
                0.52,
                -17000 - f / 1e8,
                errorDeg,
                0.44,
                3,
                2.56,
                1.2 + i % 5 * 0.01,
                1.08));
      }
      members.add(
          new Member(
              String.format(Locale.ROOT, "%02d", i),
              0,
              0,
              String.format(Locale.ROOT, "PANEL-%02d", i),
              "LOT-7",
              3.1,
              null,
              null,
              0.9987,
              false,
              null,
              new Taken(
                  1000 + i,
                  Instant.parse("2026-03-04T05:06:07Z"),
                  "technician",
                  "Bench 1",
                  22.6,
                  true),
              spots));
    }
    List<Limit> limits = new ArrayList<>();
    List<Spread> spreads = new ArrayList<>();
    for (double f : frequenciesHz) {
      limits.add(new Limit(f, 3, 2.56, 1.6, 0.2));
      spreads.add(new Spread(f, 3.2, 0.04));
    }
    Certificate certificate =
        new Certificate(
            "CM-1-1",
            new CertifiedSet(
                new Subject(
                    "W-1", "A", "Panel (invented)", 1, "A", null, "0.141 (invented)", "SMA", 0.9),
                new Requirement(
                    Method.TRANSMISSION,
                    Basis.SET,
                    Turns.ABSOLUTE,
                    1000,
                    23,
                    DecisionRule.GUARDED,
                    1,
                    1.3,
                    limits),
                members,
                spreads,
                List.of(
                    new Equipment(
                        "Bench 1",
                        "Analyzer (invented)",
                        "A-17",
                        LocalDate.parse("2027-01-31"),
                        LocalDate.parse("2027-02-28"),
                        null,
                        List.of("A1", "A2"))),
                List.of()),
            new Signature("qa", "Quality", Instant.parse("2026-03-05T08:00:00Z"), ""),
            new ChainEnd(4711, "ab".repeat(32)));
    String snapshot = CanonicalJson.write(certificate);
    assertThat(CanonicalJson.write(CanonicalJson.read(snapshot, Certificate.class)))
        .isEqualTo(snapshot);
    return new CertificateSheet(
        new SetRelease(
            1,
            1,
            "CM-1-1",
            "W-1",
            "A",
            "A",
            certificate.signature().at(),
            "qa",
            snapshot,
            CanonicalJson.sha256(snapshot),
            4711,
            "ab".repeat(32),
            null,
            null),
        certificate,
        null);
  }

  /** Two decimals and a minus sign as the sheets write them. */
  private static String deg(double degrees) {
    return String.format(Locale.ROOT, "%.2f", degrees).replace('-', '−');
  }

  private static String text(PDDocument pdf) throws IOException {
    return new PDFTextStripper().getText(pdf).replaceAll("\\s+", " ");
  }

  private static String text(PDDocument pdf, int page) throws IOException {
    PDFTextStripper stripper = new PDFTextStripper();
    stripper.setStartPage(page);
    stripper.setEndPage(page);
    return stripper.getText(pdf).replaceAll("\\s+", " ");
  }

  private static BufferedImage page(PDDocument pdf, int page) throws IOException {
    return new PDFRenderer(pdf).renderImageWithDPI(page, DPI, ImageType.GRAY);
  }
}
