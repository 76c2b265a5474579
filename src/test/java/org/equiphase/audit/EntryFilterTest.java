package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.StringReader;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.IntStream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;

@ExtendWith(RunningService.Extension.class)
class EntryFilterTest {

  private static final String LIKE_A_FORMULA = "=HYPERLINK(\"x\")";

  private final RunningService service;
  private final ApiClient qa;
  private final String kind = "kind-" + UUID.randomUUID();

  EntryFilterTest(RunningService service) {
    this.service = service;
    qa = service.api(Role.QA);
    add("FILTER_FIRST", "one", Map.of("note", "100% Torque", "reading", 4711));
    add("FILTER_SECOND", LIKE_A_FORMULA, Map.of("note", "loose", "values", List.of(1.5, 2)));
    add("FILTER_FIRST", "two", Map.of("note", "100 torque"));
  }

  @Test
  void eachFieldNarrows() {
    assertThat(keys("")).containsExactly("two", LIKE_A_FORMULA, "one");
    assertThat(keys("&action=FILTER_FIRST")).containsExactly("two", "one");
    assertThat(keys("&subjectKey=one")).containsExactly("one");
    assertThat(keys("&actor=system&action=FILTER_SECOND")).containsExactly(LIKE_A_FORMULA);
    assertThat(keys("&actor=planner")).isEmpty();
    assertThat(keys("&text=torque")).containsExactly("two", "one");
    assertThat(keys("&text=100%25%20t")).as("a percent sign is no wildcard").containsExactly("one");
  }

  @Test
  void daysAndMomentsNarrow() {
    LocalDate today = LocalDate.now(ZoneOffset.UTC);
    JsonNode entries = entries("");
    String middle = entries.get(1).get("at").asString();

    assertThat(keys("&from=" + today.minusDays(1) + "&to=" + today)).hasSize(3);
    assertThat(keys("&from=" + today.plusDays(2))).isEmpty();
    assertThat(keys("&to=" + today.minusDays(2))).isEmpty();
    assertThat(keys("&from=" + middle)).first().isEqualTo("two");
    assertThat(keys("&from=" + middle)).contains(LIKE_A_FORMULA).doesNotContain("one");
    assertThat(keys("&to=" + middle)).containsExactly("one");
    assertThat(keys("&to=" + middle.replace("Z", ""))).containsExactly("one");
  }

  @Test
  void aTimeThatIsNoneIsNamed() {
    var answer = qa.get("/api/v1/audit?from=yesterday");
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body()).contains("\"from\"", "yesterday is no time");
    assertThat(qa.get("/api/v1/audit?from=2026-02-02&to=2026-01-31").body())
        .contains("does not lie after the start");
    assertThat(qa.get("/api/v1/audit/entries.csv?from=yesterday").statusCode()).isEqualTo(400);

    HttpResponse<String> page = service.pages(Role.QA).get("/audit?from=yesterday");
    assertThat(page.statusCode()).isEqualTo(400);
    assertThat(page.body()).contains("yesterday is no time", "value=\"yesterday\"");
  }

  @Test
  void pagesFollowOneAnother() {
    JsonNode newest = entries("&limit=2");
    long last = newest.get(1).get("id").asLong();

    assertThat(newest).hasSize(2);
    assertThat(keys("&limit=2&before=" + last)).containsExactly("one");
    assertThat(qa.get("/api/v1/audit?limit=2&subjectType=" + kind).headers().firstValue("Link"))
        .hasValueSatisfying(link -> assertThat(link).contains("before=" + last, "rel=\"next\""));
    assertThat(qa.get("/api/v1/audit?subjectType=" + kind).headers().firstValue("Link")).isEmpty();
  }

  @Test
  void thePageShowsDetailsByNameWithLinksAndSuggestions() {
    String body = service.pages(Role.QA).get("/audit?subjectType=" + kind).body();

    assertThat(body)
        .contains("<dt>note</dt>", "<dd>100% Torque</dd>", "<dd>1.5, 2</dd>")
        .contains("href=\"/readings/4711\"")
        .contains("<option value=\"FILTER_SECOND\">", "<option value=\"" + kind + "\">")
        .contains("/audit/entries.csv?", "subjectType=" + kind);
    assertThat(ApiClient.json(qa.get("/api/v1/audit/words")).get("actions").valueStream())
        .extracting(JsonNode::asString)
        .contains("FILTER_FIRST", "FILTER_SECOND");
  }

  @Test
  void theTextFileHoldsTheEntriesAndTheEndOfTheChain() throws Exception {
    HttpResponse<byte[]> answer =
        service.pages(Role.QA).download("/audit/entries.csv?subjectType=" + kind);
    assertThat(answer.statusCode()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type").orElse(""))
        .isEqualToIgnoringCase("text/csv;charset=UTF-8");
    assertThat(answer.headers().firstValue("Content-Disposition").orElse(""))
        .contains("attachment", ".csv");
    List<CSVRecord> rows =
        CSVFormat.RFC4180
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .get()
            .parse(new StringReader(new String(answer.body(), StandardCharsets.UTF_8)))
            .getRecords();

    assertThat(rows).hasSize(4);
    assertThat(rows.get(0).get("details")).isEqualTo("{\"note\":\"100 torque\"}");
    assertThat(rows.get(1).get("subject_key")).isEqualTo("'" + LIKE_A_FORMULA);
    assertThat(rows.get(2).get("hash")).isEqualTo(entries("").get(2).get("hash").asString());
    assertThat(rows.get(3).get("action")).isEqualTo("CHAIN_END");
    ChainEnd end = service.bean(AuditLog.class).end();
    assertThat(rows.get(3).get("id")).isEqualTo("" + end.id());
    assertThat(rows.get(3).get("hash")).isEqualTo(end.hash());
  }

  @Test
  void theWorkbookHoldsThem() throws Exception {
    HttpResponse<byte[]> answer =
        qa.download("/api/v1/audit/entries.xlsx?text=o&subjectType=" + kind);
    assertThat(answer.statusCode()).isEqualTo(200);
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(answer.body()))) {
      Sheet sheet = book.getSheetAt(0);
      assertThat(sheet.getLastRowNum()).isEqualTo(3);
      assertThat(texts(sheet.getRow(0))).startsWith("No.", "When (UTC)", "Who");
      Cell formulaLike = sheet.getRow(2).getCell(5);
      assertThat(formulaLike.getCellType()).isEqualTo(CellType.STRING);
      assertThat(formulaLike.getStringCellValue()).isEqualTo(LIKE_A_FORMULA);
      assertThat(formulaLike.getCellStyle().getQuotePrefixed()).isTrue();
      JsonNode oldest = entries("").get(2);
      assertThat(sheet.getRow(3).getCell(0).getNumericCellValue())
          .isEqualTo(oldest.get("id").asDouble());
      assertThat(oldest.get("at").asString())
          .startsWith(
              sheet.getRow(3).getCell(1).getLocalDateTimeCellValue().withNano(0).toString());

      Sheet about = book.getSheet("Chain");
      ChainEnd end = service.bean(AuditLog.class).end();
      assertThat(about.getRow(1).getCell(1).getNumericCellValue()).isEqualTo(end.id());
      assertThat(about.getRow(2).getCell(1).getStringCellValue()).isEqualTo(end.hash());
      assertThat(texts(about.getRow(3))).containsExactly("Kind of thing", kind);
    }
  }

  private static List<String> texts(Row row) {
    return IntStream.range(0, row.getLastCellNum())
        .mapToObj(column -> row.getCell(column).getStringCellValue())
        .toList();
  }

  private List<String> keys(String query) {
    return entries(query).valueStream().map(e -> e.get("subjectKey").asString()).toList();
  }

  private JsonNode entries(String query) {
    var answer = qa.get("/api/v1/audit?subjectType=" + kind + query);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }

  private void add(String action, String key, Map<String, ?> details) {
    AuditLog log = service.bean(AuditLog.class);
    new TransactionTemplate(service.bean(PlatformTransactionManager.class))
        .executeWithoutResult(status -> log.record(action, kind, key, details));
  }
}
