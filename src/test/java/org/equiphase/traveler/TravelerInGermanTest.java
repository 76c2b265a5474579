package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;

/** Sheets for a German reader: German words, and numbers with a decimal point. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class TravelerInGermanTest {

  private final RunningService service;
  private PageClient german;
  private TravelerShop shop;

  TravelerInGermanTest(RunningService service) {
    this.service = service;
  }

  @BeforeAll
  void order() {
    shop = TravelerShop.trimming(service);
    german = service.pages(Role.TECHNICIAN).reading("de");
  }

  @Test
  void assemblySheetFitsOnePageWithItsCautions() throws IOException {
    double cutMm = shop.member(2).get("current").get("trimMm").asDouble();
    String path = "/traveler/assemblies/" + shop.serial(2) + ".pdf";
    for (String paper : List.of("a4", "letter")) {
      try (PDDocument pdf = pdf(path + "?paper=" + paper)) {
        assertThat(pdf.getNumberOfPages()).isEqualTo(1);
        assertThat(text(pdf))
            .contains("Laufkarte", "Seite 1 von 1", "Auftrag " + shop.order + " Rev. A")
            .contains(
                String.format(Locale.ROOT, "Um %.1f mm (%.3f in) kürzen", cutMm, cutMm / 25.4))
            .contains("2.76 GHz", "2.84 GHz", "0.9 N·m", "Danach in Toleranz mit ")
            .contains("Ein Schnitt lässt sich nicht rückgängig machen.", "Augenschutz")
            .contains("Lötdämpfe absaugen", "Sender abgeschaltet", "Drehmomentschlüssel")
            .contains("örtliche Vorschriften", "befugten Fachkräften")
            .contains("Abisolieren", "Endprüfung", "vor dem Schneiden am Bildschirm prüfen")
            .doesNotContainPattern("\\d,\\d")
            .doesNotContain("Traveler", "Order", "Caution", "Re-measure", "Serial number");
      }
    }
  }

  @Test
  void setSheetIsGerman() throws IOException {
    try (PDDocument pdf = pdf("/traveler/sets/" + shop.setId + ".pdf")) {
      assertThat(pdf.getNumberOfPages()).isEqualTo(5);
      assertThat(text(pdf))
          .contains("Laufkarte des Satzes: A", "Seite 5 von 5", "Nichts tun: in Toleranz (")
          .contains("Gesperrt für die QS", "Messen", "Abzeichnung des Satzes")
          .doesNotContain("Set traveler", "Members", "sign-off");
    }
  }

  @Test
  void theLanguageIsTheReadersOwn() throws IOException {
    String path = "/traveler/assemblies/" + shop.serial(1) + ".pdf";
    try (PDDocument pdf =
        Loader.loadPDF(service.api(Role.TECHNICIAN).download("/api/v1" + path).body())) {
      assertThat(text(pdf)).contains("Traveler", "Page 1 of 1").doesNotContain("Laufkarte");
    }
  }

  @Test
  void setWorkbookHasAGermanSheetForEachMember() throws IOException {
    try (XSSFWorkbook book = book("/traveler/sets/" + shop.setId + ".xlsx")) {
      assertThat(book.getSheetAt(0).getSheetName()).isEqualTo("Satz A");
      List<String> page = new ArrayList<>();
      book.getSheet(shop.serial(2)).forEach(row -> page.addAll(texts(row)));
      assertThat(page)
          .contains("Laufkarte " + shop.serial(2), "Nachmessen", "Frequenz, GHz", "HF-Leistung.")
          .doesNotContain("Step", "Caution", "What to do", "Order");
    }
  }

  private PDDocument pdf(String path) throws IOException {
    return Loader.loadPDF(download(path));
  }

  private XSSFWorkbook book(String path) throws IOException {
    return new XSSFWorkbook(new ByteArrayInputStream(download(path)));
  }

  private byte[] download(String path) {
    HttpResponse<byte[]> answer = german.download(path);
    assertThat(answer.statusCode()).isEqualTo(200);
    return answer.body();
  }

  private static String text(PDDocument pdf) throws IOException {
    return new PDFTextStripper().getText(pdf).replaceAll("\\s+", " ");
  }

  private static List<String> texts(Row row) {
    List<String> texts = new ArrayList<>();
    for (Cell cell : row) {
      texts.add(cell.getCellType() == CellType.STRING ? cell.getStringCellValue() : "");
    }
    return texts;
  }
}
