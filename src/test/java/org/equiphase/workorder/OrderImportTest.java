package org.equiphase.workorder;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFRow;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** Files of orders: what they become, each cell that won't do, and files that will never do. */
@ExtendWith(RunningService.Extension.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class OrderImportTest {

  private static final AtomicInteger NEXT = new AtomicInteger(1);

  private static final String HEAD =
      "order,title,due,template,cable_type,connector,nominal_length_mm,nominal_length_tolerance_mm,"
          + "trim_allowance_mm,cut_uncertainty_mm,frequency_mhz,tolerance_deg,set,position,serial,"
          + "offset_phase_deg,master\n";

  private final PageClient pages;
  private final ApiClient api;
  private final String cable;

  OrderImportTest(RunningService service) {
    pages = service.pages(Role.PLANNER);
    api = service.api(Role.PLANNER);
    cable = "Import cable (invented) " + System.nanoTime();
    HttpResponse<String> answer =
        api.post(
            "/api/v1/catalog/cable-types",
            """
            {"name": "%s", "velocityFactor": 0.7, "velocityFactorTolerance": 0.002,
             "impedanceOhm": 50, "skinLossDbPerM": 0.4, "dielectricLossDbPerM": 0.02,
             "temperatureCurve": [], "note": ""}
            """
                .formatted(cable));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
  }

  @Test
  void isShownAndStoredOnlyWhenAskedFor() {
    String n = number();
    String file =
        HEAD + good(n, "A", "CH{1..3}", n + "-{01..03}") + n + ",,,,,,,,,,,,,," + n + "-P,,\n";
    HttpResponse<String> uploaded = upload("orders.csv", file.getBytes(StandardCharsets.UTF_8));
    assertThat(uploaded.statusCode()).as(uploaded.body()).isEqualTo(302);
    String place = pages.location(uploaded);
    String preview = pages.get(place).body();
    assertThat(preview).contains(n + "-02", "CH3", n + "-P", "Create the order", "assemblies: 4");
    assertThat(api.get("/api/v1/workorders/" + n).statusCode()).isEqualTo(404);

    HttpResponse<String> stored = pages.post(place, Map.of("version", 0));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(302);
    JsonNode order = ApiClient.json(api.get("/api/v1/workorders/" + n));
    JsonNode specification = order.get("order").get("specification");
    assertThat(order.get("order").get("dueOn").asString()).isEqualTo("2027-03-31");
    assertThat(specification.get("basis").asString()).isEqualTo("SET");
    assertThat(specification.get("decisionRule").asString()).isEqualTo("GUARDED");
    assertThat(specification.get("frequencies")).hasSize(2);
    assertThat(specification.get("frequencies").get(1).get("frequencyHz").asDouble())
        .isEqualTo(2.9e9);
    assertThat(specification.get("frequencies").get(1).get("toleranceDeg").asDouble()).isEqualTo(3);
    assertThat(order.get("assemblies")).hasSize(4);
    assertThat(order.get("assemblies").get(1).get("serial").asString()).isEqualTo(n + "-02");

    assertThat(pages.post(place, Map.of("version", 0)).statusCode()).isEqualTo(409);
    assertThat(pages.get(place).body()).contains("Its orders were stored");
    String again =
        pages
            .get(pages.location(upload("orders.csv", file.getBytes(StandardCharsets.UTF_8))))
            .body();
    assertThat(again).contains(n + " exists already", n + "-01 exists already");
  }

  @Test
  void namesEveryBadCellByRowAndColumn() {
    String n = number();
    String m = number();
    String file =
        HEAD
            // Row 2: a length in words, a frequency list that does not fit, a serial with a slash.
            + "%1$s,one,2027-02-30,WIDE_BAND,%2$s,SMA,one metre,5,20,0.1,2700 2800,3 3 3,A,1,%1$s/1,,\n"
                .formatted(n, cable)
            // Row 3: another title for the same order.
            + "%1$s,two,,,,,,,,,,,A,2,%1$s-2,,\n".formatted(n)
            + "\n"
            // Row 5: no order; row 6: an unknown template, cable and master.
            + ",three,,,,,,,,,,,A,3,X-3,,\n"
            + "%1$s,four,,MEDIUM_BAND,no such cable,SMA,1000,5,20,0.1,2700,3,A,1,%1$s-1,,maybe\n"
                .formatted(m)
            + "%1$s,,,,,,,,,,,,A,CH{1..2},%1$s-{1..3},,\n".formatted(m)
            + "%1$s,,,,,,,,,,,,A,3,%1$s-3,\"1,5\",\n".formatted(m);
    JsonNode answer = dryRun("bad.csv", file.getBytes(StandardCharsets.UTF_8));
    List<String> cells = new ArrayList<>();
    for (JsonNode problem : answer.get("problems")) {
      cells.add(problem.get("row").asInt() + " " + problem.get("heading").asString());
    }
    assertThat(cells)
        .containsExactly(
            "2 due",
            "2 nominal_length_mm",
            "2 tolerance_deg",
            "2 serial",
            "3 title",
            "5 order",
            "6 template",
            "6 cable_type",
            "6 master",
            "7 serial",
            "8 offset_phase_deg");
    assertThat(answer.get("problems").get(1).get("message").asString())
        .isEqualTo("\"one metre\" is no number; type digits with a decimal point or comma");

    HttpResponse<String> refused = store("bad.csv", file.getBytes(StandardCharsets.UTF_8));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("rows[2].nominal_length_mm");
    assertThat(api.get("/api/v1/workorders/" + n).statusCode()).isEqualTo(404);
    String page =
        pages.get(pages.location(upload("bad.csv", file.getBytes(StandardCharsets.UTF_8)))).body();
    assertThat(page)
        .contains("nominal_length_mm", "no such cable")
        .doesNotContain("Create the order");
  }

  /** Problems that only show once the cells can be read. */
  @Test
  void namesWhatDoesNotGoTogether() {
    String n = number();
    String m = number();
    String file =
        HEAD
            + good(n, "A", "1", n + "-1")
            + "%1$s,,,,,,,,,,,,A,1,%1$s-2,,\n".formatted(n)
            + "%1$s,,,,,,,,,,,,A,3,%1$s 3,,\n".formatted(n)
            + "%1$s,,,,,,,,,,,,A,4,%1$s-1,,\n".formatted(n)
            + good(m, "A", "1", n + "-2");
    JsonNode problems = dryRun("bad.csv", file.getBytes(StandardCharsets.UTF_8)).get("problems");
    assertThat(problems).hasSize(4);
    assertThat(problems.get(0).toString()).contains("\"row\":3", "position", "label each");
    assertThat(problems.get(1).toString()).contains("\"row\":4", "serial", "printable ASCII");
    assertThat(problems.get(2).toString()).contains("\"row\":5", "serial", "stands twice");
    assertThat(problems.get(3).toString()).contains("\"row\":6", "serial", "row 3 too");
  }

  @Test
  void semicolonsDecimalCommasAndAByteOrderMark() {
    String n = number();
    String file =
        "\uFEFForder;title;cable_type;connector;nominal_length_mm;nominal_length_tolerance_mm;"
            + "trim_allowance_mm;frequency_mhz;tolerance_deg;set;position;serial\r\n"
            + "%1$s;invented;%2$s;SMA;1000,5;5;0;2700 2800,5;2,5 3;A;1;%1$s-1\r\n"
                .formatted(n, cable);
    HttpResponse<String> stored = store("de.csv", file.getBytes(StandardCharsets.UTF_8));
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(201);
    assertThat(ApiClient.json(stored).get("stored").get(0).asString()).isEqualTo(n);
    JsonNode specification =
        ApiClient.json(api.get("/api/v1/workorders/" + n)).get("order").get("specification");
    assertThat(specification.get("nominalLengthMm").asDouble()).isEqualTo(1000.5);
    assertThat(specification.get("frequencies").get(1).get("frequencyHz").asDouble())
        .isEqualTo(2.8005e9);
  }

  @Test
  void aWorkbookWithDatesNumbersAndFormulas() throws IOException {
    String n = number();
    byte[] file = workbook(n, sheet -> {});
    HttpResponse<String> stored = store("orders.xlsx", file);
    assertThat(stored.statusCode()).as(stored.body()).isEqualTo(201);
    JsonNode order = ApiClient.json(api.get("/api/v1/workorders/" + n)).get("order");
    assertThat(order.get("dueOn").asString()).isEqualTo("2027-03-31");
    assertThat(order.get("specification").get("nominalLengthMm").asDouble()).isEqualTo(1250.5);
  }

  @Test
  void aWorkbookTellsItsBadCells() throws IOException {
    String n = number();
    byte[] file =
        workbook(
            n,
            sheet -> {
              sheet.getRow(1).createCell(8).setCellValue("1,250");
              sheet.getRow(1).createCell(20).setCellValue("a remark");
              XSSFRow row = sheet.createRow(2);
              row.createCell(0).setCellValue(n);
              row.createCell(11).setCellValue(n + "-2");
              row.createCell(12).setCellFormula("1/0");
              sheet.getWorkbook().getCreationHelper().createFormulaEvaluator().evaluateAll();
              sheet.addMergedRegion(CellRangeAddress.valueOf("A5:B6"));
            });
    JsonNode problems = dryRun("orders.xlsx", file).get("problems");
    assertThat(problems.toString())
        .contains(
            "which may be thousands", "in a column without a heading", "#DIV/0!", "is merged");
  }

  /** Each is refused as a whole, with the reason, and nothing is kept of it. */
  @Test
  void filesThatWillNeverDo() throws IOException {
    refused(
        "is no text in UTF-8",
        "orders.csv",
        (HEAD + "é").getBytes(Charset.forName("windows-1252")));
    refused("quotes", "orders.csv", (HEAD + "\"open").getBytes(StandardCharsets.UTF_8));
    refused("no row below", "orders.csv", HEAD.getBytes(StandardCharsets.UTF_8));
    refused(
        "has the heading &quot;lenght_mm&quot;",
        "orders.csv",
        "order,title,cable_type,serial,lenght_mm\n1,2,3,4,5\n".getBytes(StandardCharsets.UTF_8));
    refused(
        "lacks the heading serial",
        "orders.csv",
        "order,title,cable_type\n1,2,3\n".getBytes(StandardCharsets.UTF_8));
    refused(
        "twice",
        "orders.csv",
        "order,title,cable_type,serial,title\n1,2,3,4,5\n".getBytes(StandardCharsets.UTF_8));
    refused(
        "more than 2000 rows",
        "orders.csv",
        (HEAD + "W,,,,,,,,,,,,A,1,S,,\n".repeat(2001)).getBytes(StandardCharsets.UTF_8));
    refused("at most", "orders.csv", new byte[3 * 1024 * 1024]);
    refused(
        "old format .xls",
        "orders.xls",
        new byte[] {(byte) 0xD0, (byte) 0xCF, 0x11, (byte) 0xE0, 0});

    byte[] sound = workbook(number(), sheet -> {});
    refused(
        "unpacks to over 100 times",
        "bomb.xlsx",
        with(sound, "xl/media/zeros.bin", new byte[32 * 1024 * 1024]));
    refused(
        "takes in other files",
        "links.xlsx",
        with(sound, "xl/externalLinks/externalLink1.xml", new byte[1]));
    refused("macros", "macros.xlsx", with(sound, "xl/vbaProject.bin", new byte[1]));
    refused("be read as a workbook", "cut.xlsx", Arrays.copyOf(sound, sound.length / 2));
    refused(
        "XML declarations (DTD)",
        "xxe.xlsx",
        with(
            sound,
            "xl/workbook.xml",
            "<?xml version=\"1.0\"?><!DOCTYPE w [<!ENTITY x SYSTEM \"file:///etc/hostname\">]><w>&x;</w>"
                .getBytes(StandardCharsets.UTF_8)));
  }

  @Test
  void theExampleCanBeStored() {
    byte[] example = pages.download("/workorders/imports/example.csv").body();
    JsonNode answer = dryRun("orders-example.csv", example);
    assertThat(answer.get("problems")).as(answer.toString()).isEmpty();
    assertThat(answer.get("orders")).hasSize(2);
    assertThat(pages.get("/workorders/imports").body()).contains("frequency_mhz", "example.csv");
  }

  private String good(String number, String set, String position, String serial) {
    return "%s,invented,2027-03-31,WIDE_BAND,%s,SMA,1000,5,20,0.1,2800 2900,3,%s,%s,%s,,\n"
        .formatted(number, cable, set, position, serial);
  }

  private static String number() {
    return "IM-" + NEXT.getAndIncrement();
  }

  private byte[] workbook(String number, Consumer<XSSFSheet> more) throws IOException {
    try (XSSFWorkbook workbook = new XSSFWorkbook();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream()) {
      XSSFSheet sheet = workbook.createSheet("Orders");
      CellStyle date = workbook.createCellStyle();
      date.setDataFormat((short) 14);
      String[] head = {
        "order",
        "title",
        "due",
        "cable_type",
        "connector",
        "trim_allowance_mm",
        "frequency_mhz",
        "tolerance_deg",
        "nominal_length_mm",
        "nominal_length_tolerance_mm",
        "template",
        "serial",
        "stretcher_start_mm"
      };
      XSSFRow heads = sheet.createRow(0);
      for (int c = 0; c < head.length; c++) {
        heads.createCell(c).setCellValue(head[c]);
      }
      XSSFRow row = sheet.createRow(1);
      row.createCell(0).setCellValue(number);
      row.createCell(1).setCellValue("invented");
      row.createCell(2).setCellValue(LocalDate.of(2027, 3, 31));
      row.getCell(2).setCellStyle(date);
      row.createCell(3).setCellValue(cable);
      row.createCell(4).setCellValue("SMA");
      row.createCell(5).setCellValue(0);
      row.createCell(6).setCellValue(2800);
      row.createCell(7).setCellValue(3);
      row.createCell(8).setCellFormula("1250+0.5");
      row.createCell(9).setCellValue(5);
      row.createCell(11).setCellValue(number + "-{1..3}");
      workbook.getCreationHelper().createFormulaEvaluator().evaluateAll();
      more.accept(sheet);
      workbook.write(bytes);
      return bytes.toByteArray();
    }
  }

  /** The same package with one part more, or another in its place. */
  private static byte[] with(byte[] workbook, String part, byte[] content) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ZipInputStream in = new ZipInputStream(new ByteArrayInputStream(workbook));
        ZipOutputStream out = new ZipOutputStream(bytes)) {
      for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
        if (!entry.getName().equals(part)) {
          out.putNextEntry(new ZipEntry(entry.getName()));
          in.transferTo(out);
        }
      }
      out.putNextEntry(new ZipEntry(part));
      out.write(content);
    }
    return bytes.toByteArray();
  }

  private HttpResponse<String> upload(String name, byte[] content) {
    return pages.upload("/workorders/imports", new Multipart().file("file", name, content));
  }

  private HttpResponse<String> store(String name, byte[] content) {
    return api.upload("/api/v1/workorders/imports", new Multipart().file("file", name, content));
  }

  private JsonNode dryRun(String name, byte[] content) {
    HttpResponse<String> answer =
        api.upload(
            "/api/v1/workorders/imports?dryRun=true", new Multipart().file("file", name, content));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }

  private void refused(String why, String name, byte[] content) {
    HttpResponse<String> answer = upload(name, content);
    assertThat(answer.statusCode()).as(name).isEqualTo(400);
    assertThat(answer.body()).as(name).contains(why);
  }
}
