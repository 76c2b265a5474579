package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.sheet.Barcodes;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Every PDF, downloaded and read back. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class TravelerPdfTest {

  private static final int DPI = 200;

  private final RunningService service;
  private TravelerShop shop;

  TravelerPdfTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void order() {
    shop = TravelerShop.trimming(service);
  }

  @Test
  void assemblySheetSaysWhatToCutAndWhy() throws IOException {
    JsonNode member = shop.member(2);
    JsonNode instruction = member.get("current");
    double cutMm = instruction.get("trimMm").asDouble();
    JsonNode spot = member.get("spots").get(0);
    // 2.54 cm to the inch exactly; the cable is 3.2 mm too long and the step is 0.1 mm.
    assertThat(cutMm).isBetween(3.0, 3.4);

    try (PDDocument pdf = pdf("/traveler/assemblies/" + shop.serial(2) + ".pdf")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(1);
      String text = text(pdf, 1);
      assertThat(text)
          .contains(shop.serial(2), "Order " + shop.order + " rev A", "Page 1 of 1")
          .contains(String.format(Locale.ROOT, "Cut %.1f mm (%.3f in)", cutMm, cutMm / 25.4))
          .containsOnlyOnce("Too long: ")
          .containsPattern("Too long: -1\\d\\.\\d{3}° at 2840 MHz \\(limit ±1\\.\\d{3}°\\)\\.")
          .contains("Instruction " + instruction.get("id").asLong() + ".")
          .contains("Reading " + instruction.get("readingId").asLong() + ", taken")
          .contains("semi-rigid (invented)", "SMA, 0.9 N·m", "23 °C", "transmission")
          .contains("2.76 GHz", "2.84 GHz", "±3°")
          .contains(minus(spot.get("targetPhaseDeg")), minus(spot.get("errorDeg")))
          .contains("A cut cannot be undone.", "fume", "RF power.", "local codes", "licensed")
          .contains("check on screen before cutting", "stale");
      for (String step :
          List.of(
              "Strip",
              "Terminate end A",
              "Precondition",
              "Measure",
              "Trim",
              "Terminate end B",
              "Re-measure",
              "Mark",
              "Final inspection")) {
        assertThat(text).contains(step);
      }
      // The title as it was given, but for the control character.
      assertThat(text).contains("=HYPERLINK(\"x\") & <b>panel</b>", "Ω");
    }
  }

  @Test
  void fontsAreEmbedded() throws IOException {
    try (PDDocument pdf = pdf("/traveler/assemblies/" + shop.serial(1) + ".pdf")) {
      for (var name : pdf.getPage(0).getResources().getFontNames()) {
        assertThat(pdf.getPage(0).getResources().getFont(name).isEmbedded()).isTrue();
      }
      assertThat(pdf.getPage(0).getResources().getFontNames()).isNotEmpty();
    }
  }

  @Test
  void setSheetListsItsMembersAndTheirSheetsFollow() throws IOException {
    try (PDDocument pdf = pdf("/traveler/sets/" + shop.setId + ".pdf")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(5);
      assertThat(text(pdf, 1))
          .contains("Set traveler: A", "Page 1 of 5")
          .contains(shop.members())
          .contains("None: in tolerance", "Cut 3.", "Hold for QA", "Measure it")
          .contains(TravelerShop.LABELS);
      List<String> actions = List.of("None: in tolerance", "Cut 3.", "Hold for QA", "Measure it");
      for (int i = 1; i <= 4; i++) {
        assertThat(text(pdf, i + 1)).contains(shop.serial(i), actions.get(i - 1));
      }
      assertThat(text(pdf, 4)).contains("A cable can't grow");
    }
  }

  @Test
  void barcodesDecodeFromAnOfficePrint() throws IOException {
    try (PDDocument pdf = pdf("/traveler/sets/" + shop.setId + ".pdf")) {
      List<BufferedImage> pages = new ArrayList<>();
      for (int i = 0; i < pdf.getNumberOfPages(); i++) {
        pages.add(new PDFRenderer(pdf).renderImageWithDPI(i, DPI, ImageType.RGB));
      }
      assertThat(Barcodes.on(pages.get(0)))
          .containsExactlyInAnyOrderElementsOf(
              shop.members().stream().map(serial -> serial + "/A").toList());
      for (int i = 1; i <= 4; i++) {
        Set<String> codes = new TreeSet<>();
        codes.add(shop.serial(i) + "/A");
        for (int step = 1; step <= 10; step++) {
          codes.add(shop.serial(i) + "/A/" + step);
        }
        assertThat(Barcodes.on(pages.get(i))).isEqualTo(codes);
      }
    }
  }

  @Test
  void orderHasAllSetsAndThePool() throws IOException {
    try (PDDocument pdf = pdf("/api/v1/traveler/workorders/" + shop.orderPath() + ".pdf")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(6);
      assertThat(text(pdf, 6)).contains(shop.inPool(), "pool", "Measure it");
    }
  }

  @Test
  void paperIsA4UnlessLetterIsAskedFor() throws IOException {
    String path = "/traveler/assemblies/" + shop.serial(1) + ".pdf";
    // ISO 216: A4 is 210 mm by 297 mm. US Letter: 8.5 in by 11 in. A point is 1/72 in.
    try (PDDocument pdf = pdf(path)) {
      assertThat(pdf.getPage(0).getMediaBox().getWidth()).isCloseTo(595.3f, within());
      assertThat(pdf.getPage(0).getMediaBox().getHeight()).isCloseTo(841.9f, within());
    }
    try (PDDocument pdf = pdf(path + "?paper=letter")) {
      assertThat(pdf.getPage(0).getMediaBox().getWidth()).isCloseTo(612f, within());
      assertThat(pdf.getPage(0).getMediaBox().getHeight()).isCloseTo(792f, within());
      assertThat(pdf.getNumberOfPages()).isEqualTo(1);
    }
    HttpResponse<String> refused = service.api(Role.TECHNICIAN).get("/api/v1" + path + "?paper=a5");
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("paper", "a5", "letter");
  }

  @Test
  void aSignedOffCutIsNotPrintedAgain() throws IOException {
    TravelerShop other = TravelerShop.trimming(service);
    String path = "/traveler/assemblies/" + other.serial(2) + ".pdf";
    JsonNode first = other.member(2).get("current");
    other.measure(other.serial(2), 1002.2);
    JsonNode second = other.member(2).get("current");
    try (PDDocument pdf = pdf(path)) {
      assertThat(text(pdf, 1))
          .contains("Instruction " + second.get("id").asLong() + ".")
          .doesNotContain("Instruction " + first.get("id").asLong() + ".");
    }
    other.signOffCut(second);
    try (PDDocument pdf = pdf(path)) {
      assertThat(text(pdf, 1))
          .contains("Measure it again", "signed off by technician")
          .doesNotContain("Cut 2.");
    }
  }

  @Test
  void stretcherSheetSaysWhatToSet() throws IOException {
    TravelerShop stretching = TravelerShop.stretching(service);
    double settingMm = stretching.member(2).get("current").get("settingMm").asDouble();
    try (PDDocument pdf = pdf("/traveler/assemblies/" + stretching.serial(2) + ".pdf")) {
      String plain = settingMm == Math.rint(settingMm) ? "%.0f" : "%.1f";
      assertThat(text(pdf, 1))
          .contains("Set stretcher to " + String.format(Locale.ROOT, plain, settingMm) + " mm")
          .contains("folded (invented)");
    }
  }

  private PDDocument pdf(String path) throws IOException {
    HttpResponse<byte[]> answer =
        path.startsWith("/api")
            ? service.api(Role.QA).download(path)
            : service.pages(Role.TECHNICIAN).download(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type")).contains("application/pdf");
    return Loader.loadPDF(answer.body());
  }

  private static String text(PDDocument pdf, int page) throws IOException {
    PDFTextStripper stripper = new PDFTextStripper();
    stripper.setStartPage(page);
    stripper.setEndPage(page);
    return stripper.getText(pdf).replaceAll("\\s+", " ");
  }

  /** Two decimals with the typographic minus, as sheets write negative angles. */
  private static String minus(JsonNode degrees) {
    return String.format(Locale.ROOT, "%.2f°", degrees.asDouble()).replace('-', '−');
  }

  private static org.assertj.core.data.Offset<Float> within() {
    return org.assertj.core.data.Offset.offset(0.1f);
  }
}
