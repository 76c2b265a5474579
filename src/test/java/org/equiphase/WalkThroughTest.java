package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;

/**
 * One whole set in a real browser, as its people do it: the technician logs sixteen sweeps, cuts by
 * instruction and measures again, the planner takes the sheets, QA reads the matched set.
 */
class WalkThroughTest {

  private static final Path UPLOADS = Path.of("demo-data", "uploads");
  private static final String TEMPERATURE = "22.5";
  private static final int MEMBERS = 16;

  @Test
  void technicianPlannerAndQaBringASetToMatched() throws IOException, InterruptedException {
    try (RunningService service =
            RunningService.start("equiphase.demo-accounts=true", "equiphase.demo-data=true");
        Browser browser = Browser.open(service.url())) {
      browser.signIn("technician");
      uploadFirstReadings(browser);
      List<CSVRecord> cuts = cuts();
      cut(browser, cuts.stream().filter(c -> c.get("cut").equals("1")).toList(), "after-cut");
      assertThat(bench(browser, "SW-B-001")).startsWith("In tolerance");
      cut(
          browser,
          cuts.stream().filter(c -> c.get("cut").equals("2")).toList(),
          "after-second-cut");
      assertThat(bench(browser, "SW-B-001")).startsWith("Matched");

      browser.signIn("planner");
      browser.go("/workorders/QCW-1001");
      WebElement row =
          browser.driver.findElement(
              By.xpath("//caption[.='Sets']/..//tr[contains(., 'Panel B')]"));
      assertThat(row.getText()).contains("16 matched");
      readBackPdf(browser, link(row.findElement(By.linkText("PDF"))));
      readBackWorkbook(browser, link(browser.find("a[href$='workbook.xlsx']")));

      browser.signIn("qa");
      browser.go("/workorders/QCW-1001");
      browser.driver.findElement(By.linkText("Panel B")).click();
      assertThat(browser.await("h1 .chip").getText()).contains("MATCHED");
      List<WebElement> states = browser.driver.findElements(By.cssSelector(".members .chip"));
      assertThat(states).hasSize(MEMBERS).allMatch(s -> s.getText().contains("matched"));
      assertThat(browser.driver.findElements(By.cssSelector(".members .out"))).isEmpty();
    }
  }

  private static void uploadFirstReadings(Browser browser) throws IOException {
    browser.go("/files");
    browser
        .find("input[type=file]")
        .sendKeys(
            files("first").stream()
                .map(p -> p.toAbsolutePath().toString())
                .collect(Collectors.joining("\n")));
    browser.submit("form[enctype] button");
    List<WebElement> serials = browser.driver.findElements(By.cssSelector("#confirm input.serial"));
    assertThat(serials).extracting(s -> s.getDomProperty("value")).hasSize(MEMBERS);
    assertThat(serials.get(0).getDomProperty("value")).isEqualTo("SW-B-001");
    browser.choose("benchId", "Bench 1, S-band");
    browser.type("temperatureC", TEMPERATURE);
    browser.submit("#confirm button");
    assertThat(browser.driver.findElements(By.cssSelector("#confirm"))).isEmpty();
  }

  /** Signs off each cut with the length really cut, then measures the assembly again. */
  private static void cut(Browser browser, List<CSVRecord> cuts, String folder) throws IOException {
    assertThat(cuts).isNotEmpty();
    for (CSVRecord cut : cuts) {
      String serial = cut.get("serial");
      String instruction = bench(browser, serial);
      assertThat(instruction).matches("Cut \\d+(\\.\\d)? mm");
      // The files were planned without what drift and the lot's cuts teach; a step or two may
      // differ.
      assertThat(Double.parseDouble(instruction.split(" ")[1]))
          .isCloseTo(Double.parseDouble(cut.get("instructedTrimMm")), within(0.3));
      browser.type("doneTrimMm", cut.get("doneTrimMm"));
      browser.submit("form.signoff button");
      assertThat(instruction(browser)).isEqualTo("Measure it again");

      browser.type("temperatureC", TEMPERATURE);
      Path file =
          files(folder).stream()
              .filter(p -> p.getFileName().toString().startsWith(serial))
              .findFirst()
              .orElseThrow();
      browser.find("input[type=file]").sendKeys(file.toAbsolutePath().toString());
      browser.submit("form[enctype] button");
      assertThat(browser.driver.findElements(By.cssSelector(".alert.bad"))).isEmpty();
    }
  }

  /** Scans a serial as a wedge scanner types it, and reads the instruction. */
  private static String bench(Browser browser, String serial) {
    if (!browser.driver.getCurrentUrl().contains("/bench")) {
      browser.go("/bench?benchId=1");
    }
    browser.find("#serial").sendKeys(serial, Keys.ENTER);
    browser.await(".about > .serial[data-serial='" + serial + "']");
    return instruction(browser);
  }

  private static String instruction(Browser browser) {
    return browser.text(".instruction span").strip();
  }

  private static void readBackPdf(Browser browser, String url)
      throws IOException, InterruptedException {
    byte[] pdf = download(browser, url);
    try (var document = Loader.loadPDF(pdf)) {
      String text = new PDFTextStripper().getText(document);
      for (int i = 1; i <= MEMBERS; i++) {
        assertThat(text).contains(String.format("SW-B-%03d", i));
      }
      assertThat(text).contains("QCW-1001").contains("Panel B").contains("rev A");
    }
  }

  private static void readBackWorkbook(Browser browser, String url)
      throws IOException, InterruptedException {
    byte[] workbook = download(browser, url);
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(workbook))) {
      Sheet sheet = book.getSheet("Instructions");
      List<String> serials = new ArrayList<>();
      for (Row row : sheet) {
        boolean numbers = false;
        String serial = "";
        for (Cell cell : row) {
          numbers |= cell.getCellType() == CellType.NUMERIC;
          if (cell.getCellType() == CellType.STRING
              && cell.getStringCellValue().startsWith("SW-B-")) {
            serial = cell.getStringCellValue();
          }
        }
        if (!serial.isEmpty()) {
          assertThat(numbers).as(serial).isTrue();
          serials.add(serial);
        }
      }
      assertThat(serials).hasSize(MEMBERS).contains("SW-B-001", "SW-B-016");
    }
  }

  private static String link(WebElement anchor) {
    return Objects.requireNonNull(anchor.getDomProperty("href"));
  }

  private static byte[] download(Browser browser, String url)
      throws IOException, InterruptedException {
    HttpResponse<byte[]> answer =
        HttpClient.newHttpClient()
            .send(
                HttpRequest.newBuilder(URI.create(url)).header("Cookie", browser.cookies()).build(),
                HttpResponse.BodyHandlers.ofByteArray());
    assertThat(answer.statusCode()).isEqualTo(200);
    return answer.body();
  }

  private static List<CSVRecord> cuts() throws IOException {
    try (CSVParser parser =
        CSVParser.parse(
            UPLOADS.resolve("cuts.csv"),
            StandardCharsets.UTF_8,
            CSVFormat.DEFAULT.builder().setHeader().setSkipHeaderRecord(true).get())) {
      return parser.getRecords();
    }
  }

  private static List<Path> files(String folder) throws IOException {
    try (Stream<Path> files = Files.list(UPLOADS.resolve(folder))) {
      return files.sorted().toList();
    }
  }
}
