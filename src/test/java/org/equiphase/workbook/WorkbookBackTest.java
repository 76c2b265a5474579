package org.equiphase.workbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.function.Consumer;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.util.CellRangeAddress;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.traveler.TravelerShop;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;

/**
 * A workbook filled in and brought back: what arrives, what is refused, and that it arrives once.
 */
@ExtendWith(RunningService.Extension.class)
class WorkbookBackTest {

  private static final String CUT = "Really cut, mm";
  private static final String PHASE_1 = "Shown after at 2.76 GHz, °";
  private static final String PHASE_2 = "Shown after at 2.84 GHz, °";

  private final RunningService service;
  private final ApiClient planner;
  private TravelerShop shop;
  private String serial;
  private byte[] exported;

  WorkbookBackTest(RunningService service) {
    this.service = service;
    planner = service.api(Role.PLANNER);
  }

  @BeforeEach
  void export() {
    shop = TravelerShop.trimming(service);
    serial = shop.serial(2);
    exported = planner.download("/api/v1" + path() + ".xlsx").body();
  }

  private String path() {
    return "/workorders/" + shop.orderPath() + "/workbook";
  }

  private void fill(FilledBook book) {
    book.fill(serial, CUT, 3.15)
        .fill(serial, PHASE_1, -12.125)
        .fill(serial, PHASE_2, 47.5)
        .fill(serial, "Temperature, °C", 23)
        .fill(serial, "Bench", shop.benchName())
        .fill(serial, "Initials", "A. Ö.");
  }

  private HttpResponse<String> upload(byte[] content) {
    return planner.upload("/api/v1" + path(), new Multipart().file("file", "back.xlsx", content));
  }

  private JsonNode preview(byte[] content) {
    HttpResponse<String> answer = upload(content);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  private HttpResponse<String> store(JsonNode preview) {
    return planner.post(
        "/api/v1" + path() + "/" + preview.get("upload").get("id").asLong() + "/store",
        "{\"digest\": \"" + preview.get("digest").asString() + "\"}");
  }

  private static String verdict(JsonNode preview) {
    assertThat(preview.get("rows")).as(preview.toString()).hasSize(1);
    return preview.get("rows").get(0).get("verdict").asString();
  }

  private static String reason(JsonNode preview) {
    return preview.get("rows").get(0).get("reason").asString();
  }

  private void everythingArrived() {
    JsonNode done =
        ApiClient.json(shop.technician.get("/api/v1/instructions?serial=" + serial))
            .get(0)
            .get("done");
    JsonNode history = ApiClient.json(shop.technician.get("/api/v1/instructions?serial=" + serial));
    for (JsonNode instruction : history) {
      if (!instruction.get("done").isNull()) {
        done = instruction.get("done");
      }
    }
    assertThat(done.get("trimMm").asDouble()).isEqualTo(3.15);
    assertThat(done.get("by").asString()).isEqualTo("planner");
    assertThat(done.get("note").asString()).contains("A. Ö.");
    JsonNode reading = shop.member(2).get("reading");
    assertThat(reading.get("temperatureC").asDouble()).isEqualTo(23);
    assertThat(reading.get("spots").get(0).get("measuredPhaseDeg").asDouble()).isEqualTo(-12.125);
    assertThat(reading.get("spots").get(1).get("measuredPhaseDeg").asDouble()).isEqualTo(47.5);
  }

  @Test
  void everyValueArrivesOnceAndOnlyAfterItIsConfirmed() {
    byte[] filled = FilledBook.changed(exported, this::fill);
    JsonNode preview = preview(filled);
    assertThat(verdict(preview)).isEqualTo("STORE");
    assertThat(shop.member(2).get("current").get("done").isNull()).isTrue();
    long readingBefore = shop.member(2).get("reading").get("id").asLong();

    assertThat(store(preview).statusCode()).isEqualTo(200);
    everythingArrived();
    long readingAfter = shop.member(2).get("reading").get("id").asLong();
    assertThat(readingAfter).isGreaterThan(readingBefore);

    JsonNode again = preview(filled);
    assertThat(verdict(again)).isEqualTo("ALREADY");
    assertThat(store(again).statusCode()).isEqualTo(200);
    assertThat(shop.member(2).get("reading").get("id").asLong()).isEqualTo(readingAfter);
  }

  @Test
  void textNumbersInsertedColumnsAndOtherOrderOfRowsDoNotMatter() {
    byte[] filled =
        FilledBook.changed(
            exported,
            book -> {
              fill(book);
              book.fill(serial, CUT, "3,15").fill(serial, PHASE_1, "−12,125");
              book.fill(serial, "Date and time", "");
              book.sheet.shiftColumns(2, book.heads().size(), 3);
              int row = book.row(serial).getRowNum();
              book.sheet.shiftRows(row, row, 40);
            });
    JsonNode preview = preview(filled);
    assertThat(verdict(preview)).as(preview.toString()).isEqualTo("STORE");
    assertThat(store(preview).statusCode()).isEqualTo(200);
    everythingArrived();
  }

  @Test
  void aWorkbookRecalculatedAndSavedByLibreOfficeComesBack(@TempDir Path folder) throws Exception {
    assumeTrue(Files.isExecutable(Path.of("/usr/bin/soffice")), "LibreOffice is not installed");
    Path file = folder.resolve("book.xlsx");
    Files.write(file, exported);
    convert(folder, file, "ods");
    Path back = Files.createDirectory(folder.resolve("back"));
    convert(back, folder.resolve("book.ods"), "xlsx");
    byte[] saved = Files.readAllBytes(back.resolve("book.xlsx"));

    FilledBook recalculated = new FilledBook(saved);
    double cutMm = shop.member(2).get("current").get("trimMm").asDouble();
    assertThat(recalculated.cell(serial, "Cut, mm").getNumericCellValue())
        .isCloseTo(cutMm, org.assertj.core.api.Assertions.within(1e-9 * cutMm));
    JsonNode preview = preview(FilledBook.changed(saved, this::fill));
    assertThat(verdict(preview)).isEqualTo("STORE");
    assertThat(store(preview).statusCode()).isEqualTo(200);
    everythingArrived();
  }

  private static void convert(Path folder, Path file, String format) throws Exception {
    Process process =
        new ProcessBuilder(
                "/usr/bin/soffice",
                "-env:UserInstallation=" + folder.resolve("profile").toUri(),
                "--headless",
                "--convert-to",
                format,
                "--outdir",
                folder.toString(),
                file.toString())
            .redirectErrorStream(true)
            .redirectOutput(folder.resolve("log").toFile())
            .start();
    assertThat(process.waitFor(180, TimeUnit.SECONDS)).isTrue();
  }

  @Test
  void whatSomebodySignedOffMeanwhileIsAConflictWithBothValues() {
    JsonNode before = preview(FilledBook.changed(exported, this::fill));
    shop.signOffCut(shop.member(2).get("current"));
    assertThat(store(before).statusCode()).isEqualTo(409);
    JsonNode preview = preview(FilledBook.changed(exported, this::fill));
    assertThat(verdict(preview)).isEqualTo("CONFLICT");
    JsonNode change = preview.get("rows").get(0).get("changes").get(0);
    assertThat(change.get("now").asString()).contains("technician");
    assertThat(change.get("would").asString()).isEqualTo("3.15");
  }

  @Test
  void aRowFromBeforeANewerReadingIsStale() {
    byte[] filled = FilledBook.changed(exported, this::fill);
    shop.measure(serial, 1002.5);
    JsonNode preview = preview(filled);
    assertThat(verdict(preview)).isEqualTo("STALE");
    assertThat(store(preview).statusCode()).isEqualTo(200);
    assertThat(shop.member(2).get("current").get("done").isNull()).isTrue();
  }

  @Test
  void twoPlannersStoreTheSameRowOnce() {
    byte[] one = FilledBook.changed(exported, this::fill);
    byte[] other =
        FilledBook.changed(
            exported,
            book -> {
              fill(book);
              book.fill(serial, CUT, 2.9);
            });
    JsonNode first = preview(one);
    JsonNode second = preview(other);
    assertThat(store(first).statusCode()).isEqualTo(200);
    HttpResponse<String> late = store(second);
    assertThat(late.statusCode()).isEqualTo(409);
    assertThat(late.body()).contains("preview");
    everythingArrived();
  }

  @Test
  void rowsThatSayTooLittleAreRefusedWithTheReason() {
    refusesRow(book -> book.fill(serial, "Initials", ""), "initials are missing");
    refusesRow(book -> book.fill(serial, CUT, "3.1x"), "no number");
    refusesRow(book -> book.fill(serial, CUT, -2), "doneTrimMm");
    refusesRow(book -> book.fill(serial, "Bench", "Elsewhere"), "no bench");
    refusesRow(book -> book.fill(serial, PHASE_2, ""), "missing");
    refusesRow(book -> book.fill(serial, "Row key", ""), "hidden key");
    refusesRow(
        book ->
            book.fill(serial, "Row key", book.cell(shop.serial(1), "Row key").getStringCellValue()),
        "don't belong together");
    refusesRow(book -> book.fill(serial, "Initials", "=cmd|' /C calc'!A0"), "formula");
    refusesRow(book -> book.cell(serial, "Initials").setCellFormula("\"A\"&\"B\""), "formula");
    refusesRow(book -> book.fill(serial, CUT, ""), "what was cut or set is missing");
  }

  private void refusesRow(Consumer<FilledBook> change, String why) {
    JsonNode preview =
        preview(
            FilledBook.changed(
                exported,
                book -> {
                  fill(book);
                  change.accept(book);
                }));
    assertThat(verdict(preview)).isEqualTo("REFUSED");
    assertThat(reason(preview)).contains(why);
  }

  @Test
  void hostileFilesAreRefusedWithTheReason() throws IOException {
    byte[] filled = FilledBook.changed(exported, this::fill);
    refuses("no workbook".getBytes(StandardCharsets.UTF_8), "no .xlsx workbook");
    refuses(
        new byte[] {(byte) 0xD0, (byte) 0xCF, 0x11, (byte) 0xE0, (byte) 0xA1, 0, 0, 0},
        "encrypted");
    refuses(java.util.Arrays.copyOf(filled, filled.length / 2), "can't be read");
    refuses(with(filled, Map.of("xl/vbaProject.bin", "x")), "macros");
    refuses(with(filled, Map.of("xl/externalLinks/externalLink1.xml", "<externalLink/>")), "links");
    refuses(
        with(
            filled,
            Map.of(
                "xl/worksheets/sheet2.xml",
                "<!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/hostname\">]><worksheet>&e;</worksheet>")),
        "DTD");
    refuses(with(filled, Map.of("xl/media/bomb.xml", "0".repeat(40_000_000))), "unpacks");
    refuses(with(filled, Map.of("xl/worksheets/sheet2.xml", "<worksheet><row")), "can't be read");
    refuses(
        FilledBook.changed(filled, book -> book.sheet.getRow(3).createCell(5000).setCellValue(1)),
        "beyond");
    refuses(
        FilledBook.changed(
            filled, book -> book.sheet.addMergedRegion(new CellRangeAddress(3, 4, 1, 2))),
        "merged");
    refuses(FilledBook.changed(filled, book -> book.book.removeSheetAt(1)), "no sheet");
    refuses(
        FilledBook.changed(
            filled, book -> FilledBook.write(book.sheet.getRow(2), 1, "Serial number")),
        "two columns");
    refuses(exported, "Nothing is filled in");
    TravelerShop other = TravelerShop.trimming(service);
    HttpResponse<String> elsewhere =
        planner.upload(
            "/api/v1/workorders/" + other.orderPath() + "/workbook",
            new Multipart().file("file", "back.xlsx", filled));
    assertThat(elsewhere.statusCode()).isEqualTo(400);
    assertThat(elsewhere.body()).contains("another order");
    assertThat(shop.member(2).get("current").get("done").isNull()).isTrue();
  }

  private void refuses(byte[] content, String why) {
    HttpResponse<String> answer = upload(content);
    assertThat(answer.statusCode()).as(why + ": " + answer.body()).isEqualTo(400);
    assertThat(answer.body()).contains(why);
  }

  /** The same package with parts added or in place of its own. */
  private static byte[] with(byte[] workbook, Map<String, String> parts) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(workbook));
        ZipOutputStream out = new ZipOutputStream(bytes)) {
      for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
        if (!parts.containsKey(entry.getName())) {
          out.putNextEntry(new ZipEntry(entry.getName()));
          in.transferTo(out);
        }
      }
      for (Map.Entry<String, String> part : parts.entrySet()) {
        out.putNextEntry(new ZipEntry(part.getKey()));
        out.write(part.getValue().getBytes(StandardCharsets.UTF_8));
      }
    }
    return bytes.toByteArray();
  }

  @Test
  void thePagesDoTheSame() {
    PageClient pages = service.pages(Role.TECHNICIAN);
    byte[] filled = FilledBook.changed(exported, this::fill);
    HttpResponse<String> refused =
        pages.upload(path(), new Multipart().file("file", "back.xlsx", new byte[] {1, 2, 3, 4, 5}));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("no .xlsx workbook");
    HttpResponse<String> uploaded =
        pages.upload(path(), new Multipart().file("file", "back.xlsx", filled));
    assertThat(uploaded.statusCode()).as(uploaded.body()).isEqualTo(302);
    String where = pages.location(uploaded);
    String page = pages.get(where).body();
    assertThat(page).contains("1 to store", "asked: ", "3.15", "Store 1 rows");
    String digest = page.replaceAll("(?s).*name=\"digest\" value=\"([0-9a-f]+)\".*", "$1");
    assertThat(pages.post(where, Map.of("digest", "0")).statusCode()).isEqualTo(409);
    HttpResponse<String> stored = pages.post(where, Map.of("digest", digest));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(302);
    assertThat(pages.get(where).body()).contains("Stored: 1 rows.", "stored before");
    assertThat(pages.get(path()).body()).contains("back.xlsx");
  }
}
