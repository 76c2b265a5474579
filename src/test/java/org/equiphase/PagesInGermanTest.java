package org.equiphase;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.springframework.web.util.HtmlUtils;
import tools.jackson.databind.JsonNode;

/** The shared pages as a German reader sees them, with the demo shop's data. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class PagesInGermanTest {

  /** Words that hardly an English sentence or heading goes without, and that are none in German. */
  private static final Pattern ENGLISH =
      Pattern.compile(
          "\\b(the|of|and|with|is|are|at|to|for|each|no|none|not|yet|by|it|from|Save|Add|Back|Due"
              + "|Order|Orders|File|Serial|State|Show|Who|Cable|Bench|Loss|Phase at|Frequency"
              + "|Measured|Password|Username)\\b");

  private static final List<String> ORDER_FIELDS =
      List.of(
          "number",
          "title",
          "dueOn",
          "cableLot",
          "connector",
          "connectorTorqueNm",
          "nominalLengthToleranceMm",
          "nominalDelayNs",
          "trimAllowanceMm",
          "cutResolutionMm",
          "cutStandardUncertaintyMm",
          "tooShortPercent",
          "stretcherStartMm",
          "aimPercent",
          "vswrLimit",
          "referenceTemperatureC",
          "temperatureLowC",
          "temperatureHighC",
          "guardFactor",
          "pool");

  private static final List<String> KINDS =
      List.of(
          "cable-types", "line-stretchers", "benches", "instruments", "adapters", "end-standards");

  private static final Pattern POINT = Pattern.compile("(?<![\\w.-])\\d+\\.\\d+(?![\\w.-])");
  private static final Pattern COMMA = Pattern.compile("\\d,\\d");

  private final RunningService service = RunningService.demo();
  private final PageClient planner = service.pages(Role.PLANNER).reading("de-AT,de;q=0.9,en;q=0.5");
  private final PageClient administrator = service.pages(Role.ADMINISTRATOR).reading("de");
  private final ApiClient api = service.api(Role.PLANNER);
  private final List<String> written = new ArrayList<>();

  @ParameterizedTest
  @CsvSource({
    "/catalog, Katalog",
    "/catalog/cable-types/new, Neu: Kabeltyp",
    "/catalog/line-stretchers/new, Neu: Leitungsstrecker",
    "/catalog/benches/new, Neu: Messplatz",
    "/catalog/instruments/new, Neu: Messgerät",
    "/catalog/adapters/new, Neu: Adapter",
    "/catalog/end-standards/new, Neu: Abschlussnormal",
    "/workorders, Aufträge",
    "/workorders/new, Neuer Auftrag",
    "/board, Übersicht",
    "'/building/QCW-1003', Sätze bilden",
    "/workorders/new?template=TRUE_DELAY, Neuer Auftrag",
    "/workorders/QCW-1001/revise, Auftrag QCW-1001 revidieren",
    "/workorders/imports, Aufträge aus einer Datei",
    "/files, Messdateien",
    "/account, Demo Planner",
    "/audit, Protokoll",
    "/audit/chain, Prüfung der Kette",
    "/people, Personen",
    "/people/qa, qa",
    "/nirgends, Nicht gefunden"
  })
  void isGermanThroughout(String path, String heading) {
    PageClient reader =
        path.startsWith("/audit") || path.startsWith("/people") ? administrator : planner;
    isGerman(reader.get(path), heading);
  }

  @Test
  void signInIsGermanBeforeAnyoneIsKnown() {
    isGerman(service.pages().reading("de").get("/sign-in?failed"), "Anmelden");
  }

  @Test
  void catalogEntriesAreGermanWithDecimalCommas() {
    for (String kind : KINDS) {
      for (JsonNode entry : ApiClient.json(api.get("/api/v1/catalog/" + kind))) {
        isGerman(planner.get("/catalog/" + kind + "/" + entry.get("id").asLong()), "„");
      }
    }
    assertThat(words(planner.get("/catalog"))).containsPattern(COMMA);
  }

  @Test
  void ordersAreGermanWithDecimalCommas() {
    for (JsonNode order : ApiClient.json(api.get("/api/v1/workorders"))) {
      HttpResponse<String> page = planner.get("/workorders/" + order.get("number").asString());
      isGerman(page, "Auftrag " + order.get("number").asString());
      assertThat(words(page)).containsPattern(COMMA);
    }
  }

  @Test
  void refusalsAreGerman() {
    planner.get("/catalog/cable-types/new");
    HttpResponse<String> entry =
        planner.post("/catalog/cable-types", Map.of("name", "X", "velocityFactor", "69,5"));
    isGerman(entry, "Neu: Kabeltyp");
    assertThat(words(entry))
        .contains("69,5 sieht nach Prozent aus; den Faktor angeben, hier 0,695");

    Map<String, String> order = new HashMap<>();
    for (String field : ORDER_FIELDS) {
      order.put(field, "");
    }
    order.put("cableTypeId", "1");
    order.put("method", "TRANSMISSION");
    order.put("basis", "SET");
    order.put("turns", "ABSOLUTE");
    order.put("decisionRule", "SIMPLE");
    order.put("nominalLengthMm", "ein Meter");
    order.put("frequencies", "2800; drei");
    order.put("positions", "A; 1");
    HttpResponse<String> form = planner.post("/workorders", order);
    assertThat(words(form)).contains("„ein Meter“ ist keine Zahl", "Frequenzen, Zeile 1: Toleranz");
    isGerman(form, "Neuer Auftrag");
    isGerman(planner.post("/people", Map.of()), "Nicht erlaubt");
    isGerman(
        administrator.post("/people", Map.of("username", "1", "password", "short")), "Personen");
  }

  /** The record and what programs get have one language, whoever asks. */
  @Test
  void answersToProgramsStayEnglishAndPlain() {
    ApiClient people = service.api(Role.ADMINISTRATOR);
    HttpResponse<String> missing =
        people.send(people.request("/api/v1/people/NONE").header("Accept-Language", "de").GET());
    assertThat(ApiClient.json(missing).get("detail").asString())
        .isEqualTo("There is no person \"NONE\".");
    HttpResponse<String> types =
        api.send(api.request("/api/v1/catalog/cable-types").header("Accept-Language", "de").GET());
    assertThat(types.body())
        .contains("\"velocityFactor\":0.695")
        .doesNotContainPattern("\\d,\\d+}");
  }

  @Test
  void filesHaveNumbersWithAPoint() throws IOException {
    String number = "";
    for (JsonNode order : ApiClient.json(api.get("/api/v1/workorders"))) {
      number = order.get("number").asString();
    }
    byte[] sheet = planner.download("/traveler/workorders/" + number + ".pdf").body();
    try (PDDocument pdf = Loader.loadPDF(sheet)) {
      assertThat(new PDFTextStripper().getText(pdf))
          .containsPattern(POINT)
          .doesNotContainPattern(COMMA);
    }
    byte[] instructions =
        planner.download("/traveler/workorders/" + number + "/instructions.xlsx").body();
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(instructions))) {
      List<String> texts = new ArrayList<>();
      book.forEach(
          page ->
              page.forEach(row -> row.forEach(cell -> texts.add(cell.getCellType() + " " + cell))));
      assertThat(texts).anyMatch(text -> text.matches("NUMERIC -?\\d+\\.\\d+"));
      assertThat(texts).noneMatch(text -> text.matches("STRING [−-]?\\d+,\\d+.*"));
    }
  }

  @Test
  void thePersonsOwnChoiceCountsMoreThanTheBrowser() {
    PageClient technician = service.pages(Role.TECHNICIAN).reading("de");
    technician.get("/account");
    technician.post("/account/preferences", Map.of("language", "en", "lengthUnit", "MM"));
    assertThat(technician.get("/catalog").body()).contains("lang=\"en\"", ">Catalog</h1>", "0.695");
    technician.post("/account/preferences", Map.of("language", "", "lengthUnit", "MM"));
    isGerman(technician.get("/catalog"), "Katalog");
  }

  private void isGerman(HttpResponse<String> page, String heading) {
    assertThat(page.body()).contains("lang=\"de\"").containsPattern("<h1>[^<]*" + heading);
    String words = words(page);
    assertThat(ENGLISH.matcher(words).results().map(found -> around(words, found))).isEmpty();
    assertThat(POINT.matcher(words).results().map(found -> around(words, found))).isEmpty();
  }

  /** The text of a page and of its attributes, without what people wrote in the demo shop. */
  private String words(HttpResponse<String> page) {
    String html =
        page.body()
            .replaceAll("(?s)^.*<body>", "")
            .replaceAll("<(option|span)[^>]* lang=\"en\"[^>]*>[^<]*<", "<")
            .replaceAll("(?s)<code[ >].*?</code>", "")
            .replaceAll("(?s)<td class=\"(mono|serial)\".*?</td>", "")
            .replaceAll("(aria-label|placeholder|value)=\"([^\"]*)\"", "> $2 <")
            .replaceAll("<[^>]*>", " ");
    String text = HtmlUtils.htmlUnescape(html);
    for (String written : written()) {
      text = text.replace(written, " ");
    }
    return text;
  }

  private List<String> written() {
    if (written.isEmpty()) {
      for (String kind : KINDS) {
        for (JsonNode entry : ApiClient.json(api.get("/api/v1/catalog/" + kind))) {
          written.add(entry.get("name").asString());
          written.add(entry.get("note").asString());
        }
      }
      for (JsonNode order : ApiClient.json(api.get("/api/v1/workorders"))) {
        written.add(order.get("title").asString());
        written.add(order.get("specification").get("connector").asString());
      }
      written.removeIf(String::isBlank);
    }
    return written;
  }

  private static String around(String words, MatchResult found) {
    return words
        .substring(Math.max(0, found.start() - 60), Math.min(words.length(), found.end() + 40))
        .replaceAll("\\s+", " ");
  }
}
