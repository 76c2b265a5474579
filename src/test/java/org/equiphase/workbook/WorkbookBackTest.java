package org.equiphase.workbook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.zaxxer.hikari.HikariDataSource;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.IntFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.StreamSupport;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.traveler.TravelerShop;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Tag;
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

  /** One for all tests, since LibreOffice takes a while to set itself up in a new one. */
  @TempDir
  @SuppressWarnings("NullAway.Init")
  private static Path folder;

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
    return preview.get("rows").get(0).get("reason").asString().replace('\u00a0', ' ');
  }

  private void everythingArrived() {
    JsonNode history = ApiClient.json(shop.technician.get("/api/v1/instructions?serial=" + serial));
    JsonNode done =
        StreamSupport.stream(history.spliterator(), false)
            .map(instruction -> instruction.get("done"))
            .filter(each -> !each.isNull())
            .findFirst()
            .orElseThrow();
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
  void textNumbersValuesForFormulasInsertedColumnsAndOtherOrderOfRowsDoNotMatter() {
    byte[] filled =
        FilledBook.changed(
            exported,
            book -> {
              fill(book);
              book.fill(serial, CUT, "3,15").fill(serial, PHASE_1, "−12,125");
              book.fill(serial, "Date and time", "");
              book.formulas().forEach(Cell::removeFormula);
              book.sheet.shiftColumns(2, book.heads().size(), 3);
              int row = book.row(serial).getRowNum();
              book.sheet.shiftRows(row, row, 40);
            });
    arrives(filled);
  }

  @Test
  @Tag("office")
  void aWorkbookRecalculatedAndSavedByLibreOfficeComesBack() throws Exception {
    byte[] saved = recalculated(exported, new LibreOffice(folder));
    arrives(FilledBook.changed(saved, this::fill));
  }

  @Test
  @Tag("office")
  void settingsAreRecalculatedByLibreOfficeToo() throws Exception {
    TravelerShop stretching = TravelerShop.stretching(service);
    recalculated(
        planner.download("/api/v1/workorders/" + stretching.orderPath() + "/workbook.xlsx").body(),
        new LibreOffice(folder));
  }

  /** Computed from formulas without values, and compared with ours in each of them. */
  private static byte[] recalculated(byte[] content, LibreOffice office) throws Exception {
    List<Cell> ours = new FilledBook(content).formulas();
    assertThat(ours).hasSizeGreaterThanOrEqualTo(5);
    byte[] bare = FilledBook.changed(content, FilledBook::forgetValues);
    byte[] saved = office.saved(bare, "xlsx", "xlsx");
    FilledBook theirs = new FilledBook(saved);
    for (Cell cell : ours) {
      Row row = theirs.sheet.getRow(cell.getRowIndex());
      double value = row.getCell(cell.getColumnIndex()).getNumericCellValue();
      double errorDeg = row.getCell(theirs.column("Error at 2.76 GHz, °")).getNumericCellValue();
      // What remains of an error after a cut is the difference of two such numbers.
      double size = Math.max(Math.abs(cell.getNumericCellValue()), Math.abs(errorDeg));
      assertThat(value)
          .as(cell.getAddress() + ": " + cell.getCellFormula())
          .isCloseTo(cell.getNumericCellValue(), within(1e-9 * size));
    }
    return saved;
  }

  @Test
  @Tag("office")
  void aWorkbookThatWasAnOpenDocumentInBetweenComesBack() throws Exception {
    LibreOffice office = new LibreOffice(folder);
    byte[] saved = office.saved(office.saved(exported, "xlsx", "ods"), "ods", "xlsx");
    arrives(FilledBook.changed(saved, this::fill));
  }

  /** One sheet without formulas, styles or hidden columns is left of it. */
  @Test
  @Tag("office")
  void aWorkbookExportedAsTextAndTakenInAgainComesBack() throws Exception {
    LibreOffice office = new LibreOffice(folder);
    byte[] text = office.saved(exported, "xlsx", LibreOffice.SECOND_SHEET_AS_CSV);
    byte[] values = office.saved(text, "csv", "xlsx", LibreOffice.CSV_IN_UTF_8);
    assertThat(new FilledBook(values).cell(serial, "Cut, mm").getCellType())
        .isEqualTo(CellType.NUMERIC);
    arrives(FilledBook.changed(values, this::fill));
  }

  private void arrives(byte[] filled) {
    JsonNode preview = preview(filled);
    assertThat(verdict(preview)).as(preview.toString()).isEqualTo("STORE");
    assertThat(store(preview).statusCode()).isEqualTo(200);
    everythingArrived();
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

  /** A row that can't be stored takes nothing of the others with it, nor leaves anything behind. */
  @Test
  void rowsAreStoredBesideOneThatIsRefused() {
    byte[] filled =
        FilledBook.changed(
            exported,
            book -> {
              fill(book);
              book.fill(serial, PHASE_2, 2e6);
              book.fill(shop.serial(4), PHASE_1, 10)
                  .fill(shop.serial(4), PHASE_2, 20)
                  .fill(shop.serial(4), "Temperature, °C", 23)
                  .fill(shop.serial(4), "Bench", shop.benchName())
                  .fill(shop.serial(4), "Initials", "MK");
            });
    JsonNode preview = preview(filled);
    assertThat(preview.get("rows")).hasSize(2);
    assertThat(preview.get("rows").get(0).get("verdict").asString()).isEqualTo("REFUSED");
    assertThat(preview.get("rows").get(1).get("verdict").asString()).isEqualTo("STORE");
    assertThat(store(preview).statusCode()).isEqualTo(200);
    assertThat(shop.member(4).get("reading").get("spots").get(1).get("measuredPhaseDeg").asDouble())
        .isEqualTo(20);
    assertThat(shop.member(2).get("current").get("done").isNull()).isTrue();
    JsonNode entries =
        ApiClient.json(
            service.api(Role.QA).get("/api/v1/audit?subjectType=assembly&subjectKey=" + serial));
    assertThat(entries.toString()).contains("INSTRUCTION_ISSUED").doesNotContain("SIGNED_OFF");
  }

  /** With one connection, a request that wanted a second would wait for itself. */
  @Test
  void oneConnectionServesAnUploadAndItsStoring() {
    HikariDataSource pool = service.bean(HikariDataSource.class);
    int usual = pool.getMaximumPoolSize();
    pool.setMinimumIdle(1);
    pool.setMaximumPoolSize(1);
    pool.getHikariPoolMXBean().softEvictConnections();
    try {
      arrives(FilledBook.changed(exported, this::fill));
      assertThat(pool.getHikariPoolMXBean().getTotalConnections()).isEqualTo(1);
    } finally {
      pool.setMaximumPoolSize(usual);
      pool.setMinimumIdle(usual);
    }
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
    refusesRow(book -> book.fill(serial, CUT, -2), CUT + ": ");
    refusesRow(book -> book.fill(serial, PHASE_2, 2e6), PHASE_2 + ": ");
    refusesRow(book -> book.fill(serial, "Date and time", "2019-01-01"), "Date and time: ");
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
    refuses(java.util.Arrays.copyOf(filled, filled.length / 2), "be read as a workbook");
    refuses(with(filled, Map.of("xl/vbaProject.bin", "x")), "macros");
    refuses(
        with(filled, Map.of("xl/externalLinks/externalLink1.xml", "<externalLink/>")),
        "data sources");
    refuses(
        with(
            filled,
            Map.of(
                "xl/worksheets/sheet2.xml",
                "<!DOCTYPE x [<!ENTITY e SYSTEM \"file:///etc/hostname\">]><worksheet>&e;</worksheet>")),
        "DTD");
    refuses(
        with(filled, Map.of("xl/worksheets/bomb.xml", "<x>" + "<row/>".repeat(7_000_000))),
        "over 100 times");
    refuses(
        with(filled, Map.of("xl/media/bomb.xml", "<x>" + "0".repeat(40_000_000))),
        "unpacks to more");
    refuses(with(filled, Map.of("xl/worksheets/sheet2.xml", "<worksheet><row")), "can't be read");
    refuses(with(filled, Map.of("xl/embeddings/a.bin", "x")), "embedded");
    refuses(with(filled, Map.of("xl/connections.xml", "<x/>")), "data sources");
    refuses(sheet(filled, "<!-- " + "<a> ".repeat(5000) + "--><worksheet/>"), "comments");
    refuses(sheet(filled, "<worksheet " + noise(1_200_000) + "='1'/>"), "more than will be read");
    String entity = "<!DOCTYPE x [<!ENTITY e 'e'>]><worksheet>&e;</worksheet>";
    refuses(
        with(filled, Map.of("xl/worksheets/sheet2.xml", entity.getBytes(StandardCharsets.UTF_16))),
        "DTD");
    refuses(
        with(filled, Map.of("xl/worksheets/sheet2.xml", entity.getBytes(Charset.forName("Cp037")))),
        "can't be read");
    refuses(
        with(
            filled,
            Map.of(
                "xl/sharedStrings.xml",
                "<sst>" + lines(760_000, i -> "<si><t>" + i * i % 9973 + "</t></si>"))),
        "more than will be read");
    refuses(rows(filled, 10_001, i -> cell("S" + i) + cell("K" + i) + cell("1")), "10000 rows");
    refuses(rows(filled, 200_001, i -> cell("S" + i)), "200000 rows");
    refuses(rows(filled, 1, i -> cell("S") + cell("K") + cell(noise(201))), "in cell C2");
    refuses(
        rows(filled, 1, i -> "<c r='Z2' t='str'><v>" + noise(50_001) + "</v></c>"), "in cell Z2");
    refuses(
        FilledBook.changed(filled, book -> book.sheet.getRow(3).createCell(5000).setCellValue(1)),
        "beyond column");
    refuses(
        FilledBook.changed(
            filled, book -> book.sheet.addMergedRegion(new CellRangeAddress(3, 4, 1, 2))),
        "merged cells");
    refuses(FilledBook.changed(filled, book -> book.book.removeSheetAt(1)), "no sheet");
    refuses(
        FilledBook.changed(
            filled, book -> FilledBook.write(book.sheet.getRow(2), 1, "Serial number")),
        "over two columns");
    refuses(exported, "nothing filled in");
    TravelerShop other = TravelerShop.trimming(service);
    HttpResponse<String> elsewhere =
        planner.upload(
            "/api/v1/workorders/" + other.orderPath() + "/workbook",
            new Multipart().file("file", "back.xlsx", filled));
    assertThat(elsewhere.statusCode()).isEqualTo(400);
    assertThat(elsewhere.body()).contains("another order");
    assertThat(shop.member(2).get("current").get("done").isNull()).isTrue();
    assertThat(service.pages(Role.PLANNER).get(path()).body()).contains("None yet.");
  }

  private void refuses(byte[] content, String why) {
    HttpResponse<String> answer = upload(content);
    assertThat(answer.statusCode()).as(why + ": " + answer.body()).isEqualTo(400);
    assertThat(answer.body()).contains(why);
  }

  private static byte[] sheet(byte[] workbook, String xml) throws IOException {
    return with(workbook, Map.of("xl/worksheets/sheet2.xml", xml));
  }

  /** A sheet of so many rows below its headings; neither rows nor cells say where they are. */
  private static byte[] rows(byte[] workbook, int count, IntFunction<String> cells)
      throws IOException {
    String head = cell("Serial number") + cell("Row key") + cell(CUT) + cell("Initials");
    return sheet(
        workbook,
        "<worksheet xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main'><sheetData>"
            + ("<row>" + head + "</row>")
            + lines(count, i -> "<row>" + cells.apply(i) + "</row>")
            + "</sheetData></worksheet>");
  }

  private static String cell(String text) {
    return "<c t='str'><v>" + text + "</v></c>";
  }

  private static String lines(int count, IntFunction<String> line) {
    return IntStream.range(0, count).mapToObj(line).collect(Collectors.joining());
  }

  /** Letters that hardly shrink. */
  private static String noise(int length) {
    return new Random(1)
        .ints(length, 'a', 'z' + 1)
        .mapToObj(Character::toString)
        .collect(Collectors.joining());
  }

  /** The same package with parts, texts or bytes, added or in place of its own. */
  private static byte[] with(byte[] workbook, Map<String, ?> parts) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(workbook));
        ZipOutputStream out = new ZipOutputStream(bytes)) {
      for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
        if (!parts.containsKey(entry.getName())) {
          out.putNextEntry(new ZipEntry(entry.getName()));
          in.transferTo(out);
        }
      }
      for (Map.Entry<String, ?> part : parts.entrySet()) {
        out.putNextEntry(new ZipEntry(part.getKey()));
        out.write(
            part.getValue() instanceof byte[] bytesOfPart
                ? bytesOfPart
                : part.getValue().toString().getBytes(StandardCharsets.UTF_8));
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
    assertThat(refused.body()).contains("The file is no .xlsx workbook");
    HttpResponse<String> uploaded =
        pages.upload(path(), new Multipart().file("file", "back.xlsx", filled));
    assertThat(uploaded.statusCode()).as(uploaded.body()).isEqualTo(302);
    String where = pages.location(uploaded);
    String page = pages.get(where).body();
    assertThat(page).contains("To store: 1,", "asked: ", "3.15", "Store 1 of 1 rows");
    String digest = page.replaceAll("(?s).*name=\"digest\" value=\"([0-9a-f]+)\".*", "$1");
    assertThat(pages.post(where, Map.of("digest", "0")).statusCode()).isEqualTo(409);
    HttpResponse<String> stored = pages.post(where, Map.of("digest", digest));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(302);
    assertThat(pages.get(where).body()).contains("Rows stored: 1.", "stored before");
    assertThat(pages.get(path()).body()).contains("back.xlsx");
  }
}
