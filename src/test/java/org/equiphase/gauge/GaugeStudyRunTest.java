package org.equiphase.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.metrology.GaugeStudies;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** A study from its plan to its figures, over HTTP. */
@ExtendWith(RunningService.Extension.class)
class GaugeStudyRunTest {

  private static final List<String> APPRAISERS = List.of("technician", "qa", "qa2");

  private final RunningService service;
  private final SmallShop shop;
  private final Map<String, ApiClient> people;

  GaugeStudyRunTest(RunningService service) {
    this.service = service;
    shop = new SmallShop(service);
    people =
        APPRAISERS.stream()
            .collect(
                Collectors.toMap(
                    name -> name,
                    name ->
                        service.api(
                            service.bean(ApiTokens.class).add(name, "gauge", null).secret())));
  }

  private JsonNode plan(int parts, List<String> appraisers, int trials) {
    shop.order(parts, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    HttpResponse<String> answer =
        shop.qa.post("/api/v1/gauge-studies", draft(parts, appraisers, trials));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }

  private String draft(int parts, List<String> appraisers, int trials) {
    return """
        {"name": "Bench study %s", "benchId": %d, "frequencyHz": 2.8e9, "toleranceWidthDeg": 8,
         "trials": %d, "seed": 7, "parts": [%s], "appraisers": [%s]}
        """
        .formatted(
            shop.orderNumber(),
            shop.benchId,
            trials,
            IntStream.rangeClosed(1, parts)
                .mapToObj(i -> "\"" + shop.serial(i) + "\"")
                .collect(Collectors.joining(",")),
            appraisers.stream().map(a -> "\"" + a + "\"").collect(Collectors.joining(",")));
  }

  /** Answers the measurement that is asked for. */
  private HttpResponse<String> value(String person, long id, String serial, double phaseDeg) {
    return value(person, id, asked(person, id).get("turn").asInt(0), serial, phaseDeg);
  }

  private HttpResponse<String> value(
      String person, long id, int turn, String serial, double phaseDeg) {
    return person(person)
        .post(
            "/api/v1/bench/gauge/" + id + "/values",
            String.format(
                Locale.ROOT,
                "{\"turn\": %d, \"serial\": \"%s\", \"phaseDeg\": %.6f}",
                turn,
                serial,
                phaseDeg));
  }

  private ApiClient person(String name) {
    return Objects.requireNonNull(people.get(name));
  }

  private JsonNode asked(String person, long id) {
    return ApiClient.json(person(person).get("/api/v1/bench/gauge/" + id + "/next"));
  }

  private String next(String person, long id) {
    return asked(person, id).get("serial").asString();
  }

  private PageClient pages(String person) {
    PageClient pages = service.pages();
    assertThat(pages.signIn(person, RunningService.PASSWORD).statusCode()).isEqualTo(302);
    return pages;
  }

  /**
   * The worked example of the manual: 10 parts, 3 appraisers, 3 trials, its deviations taken as
   * degrees. By average and range it prints EV 0.20188, AV 0.22963, GRR 0.30575, PV 1.10456, TV
   * 1.14610, GRR 26.68 % and ndc 5 (AIAG, Measurement Systems Analysis, 4th edition, chapter
   * III-B).
   */
  @Test
  void theManualsStudyGivesTheManualsFigures() throws IOException {
    double[][][] manual = GaugeStudies.manual();
    JsonNode study = plan(10, APPRAISERS, 3);
    long id = study.get("id").asLong();
    for (int a = 0; a < 3; a++) {
      int[] trials = new int[10];
      for (int i = 0; i < 30; i++) {
        String serial = next(APPRAISERS.get(a), id);
        int part = Integer.parseInt(serial.substring(serial.indexOf('-') + 1)) - 1;
        // About the wrap of phase: 179.9° and more appear as −180° and so on.
        double phase = 179.9 + manual[part][a][trials[part]++];
        double shown = phase > 180 ? phase - 360 : phase;
        assertThat(value(APPRAISERS.get(a), id, serial, shown).statusCode()).isEqualTo(200);
      }
    }
    JsonNode analysis = ApiClient.json(shop.qa.get("/api/v1/gauge-studies/" + id + "/analysis"));
    JsonNode shares = analysis.get("byRange").get("shares");
    double[] printed = {0.20188, 0.22963, 0.30575, 1.10456, 1.14610};
    for (int i = 0; i < printed.length; i++) {
      assertThat(shares.get(i).get("deviationDeg").asDouble())
          .as(shares.get(i).get("name").asString())
          .isCloseTo(printed[i], within(2e-4));
    }
    assertThat(analysis.get("byRange").get("gaugePercent").asDouble())
        .isCloseTo(26.68, within(0.03));
    assertThat(analysis.get("byRange").get("distinctCategories").asInt()).isEqualTo(5);
    // Six deviations over a tolerance of 8.
    assertThat(shares.get(2).get("percentOfTolerance").asDouble())
        .isCloseTo(100 * 6 * 0.30575 / 8, within(0.05));

    // The manual rounds K1 to four digits and so prints 0.20188.
    String page = service.pages(Role.QA).get("/gauge-studies/" + id).body();
    assertThat(page).contains("0.20186", "26.68", "complete", "Ranges above it");
    assertThat(service.pages(Role.QA).get("/gauge-studies/" + id + "/values.csv").body().lines())
        .hasSize(91);
    byte[] xlsx = service.pages(Role.QA).download("/gauge-studies/" + id + "/values.xlsx").body();
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(xlsx))) {
      assertThat(book.getSheetAt(0).getLastRowNum()).isEqualTo(90);
      assertThat(book.getSheetAt(0).getRow(1).getCell(1).getStringCellValue())
          .isEqualTo("technician");
      assertThat(book.getSheetAt(1).getRow(7).getCell(1).getStringCellValue()).startsWith("EV");
      assertThat(book.getSheetAt(1).getRow(7).getCell(2).getNumericCellValue())
          .isCloseTo(0.20188, within(2e-4));
    }
    assertThat(service.pages(Role.QA).get("/gauge-studies/" + id + "/figures.csv").body().lines())
        .hasSize(1 + 2 * 6 + 1)
        .anyMatch(line -> line.startsWith("By average and range,\"GRR") && line.contains(",26.6"))
        .anyMatch(line -> line.contains("ndc") && line.endsWith(",5,"));
    assertThat(value("technician", id, 1, shop.serial(1), 0).statusCode()).isEqualTo(409);
  }

  /** About half a turn away could as well be on the other side. */
  @Test
  void partsHalfATurnApartGetASentenceAndNoFigures() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    for (String appraiser : List.of("technician", "qa")) {
      for (int i = 0; i < 4; i++) {
        String serial = next(appraiser, id);
        double phase = serial.equals(shop.serial(1)) ? 10 : -169;
        assertThat(value(appraiser, id, serial, phase).statusCode()).isEqualTo(200);
      }
    }
    HttpResponse<String> analysis = shop.qa.get("/api/v1/gauge-studies/" + id + "/analysis");
    assertThat(analysis.statusCode()).isEqualTo(409);
    assertThat(analysis.body()).contains(shop.serial(1)).contains(shop.serial(2)).contains("150°");
    HttpResponse<String> page = service.pages(Role.QA).get("/gauge-studies/" + id);
    assertThat(page.statusCode()).isEqualTo(200);
    assertThat(page.body()).contains("No figures can be given").doesNotContain("Mean square");
  }

  @Test
  void wrongPartWrongPersonAndStruckValues() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    String asked = next("technician", id);
    String other = asked.equals(shop.serial(1)) ? shop.serial(2) : shop.serial(1);
    HttpResponse<String> wrong = value("technician", id, other, 1);
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body()).contains("serial").contains(asked);
    assertThat(value("qa2", id, 1, asked, 1).statusCode()).isEqualTo(409);
    assertThat(service.pages(Role.TECHNICIAN).get("/bench?benchId=" + shop.benchId).body())
        .contains("4 measurements left");

    assertThat(value("technician", id, asked, 1).statusCode()).isEqualTo(200);
    HttpResponse<String> struck =
        person("technician")
            .post("/api/v1/bench/gauge/" + id + "/strike", "{\"reason\": \"loose nut\"}");
    assertThat(struck.statusCode()).isEqualTo(200);
    assertThat(next("technician", id)).isEqualTo(asked);
    JsonNode values = ApiClient.json(person("qa2").get("/api/v1/gauge-studies/" + id + "/values"));
    assertThat(values).hasSize(1);
    assertThat(values.get(0).get("strikeReason").asString()).isEqualTo("loose nut");

    String cancel = "/api/v1/gauge-studies/" + id + "/cancel";
    assertThat(shop.technician.post(cancel, "{\"version\": 0, \"reason\": \"x\"}").statusCode())
        .isEqualTo(403);
    assertThat(shop.qa.post(cancel, "{\"version\": 5, \"reason\": \"x\"}").statusCode())
        .isEqualTo(409);
    assertThat(shop.qa.post(cancel, "{\"version\": 0, \"reason\": \"x\"}").statusCode())
        .isEqualTo(200);
    assertThat(value("technician", id, 1, asked, 1).statusCode()).isEqualTo(409);
  }

  /** Two values of one appraiser would else be one, sent again after its answer was lost. */
  @Test
  void aValueSentTwiceIsNotTakenForTheNext() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    String first = next("technician", id);
    assertThat(value("technician", id, 1, first, 12.5).statusCode()).isEqualTo(200);
    String second = next("technician", id);
    assertThat(second).isNotEqualTo(first);
    for (String serial : List.of(first, second)) {
      HttpResponse<String> again = value("technician", id, 1, serial, 12.5);
      assertThat(again.statusCode()).isEqualTo(409);
      assertThat(again.body()).contains("measurement 1", "taken already", second);
    }
    assertThat(value("technician", id, 3, second, 12.5).statusCode()).isEqualTo(409);
    PageClient bench = pages("technician");
    String path = "/bench/gauge/" + id;
    HttpResponse<String> page =
        bench.post(path + "/values", Map.of("turn", 1, "serial", second, "phaseDeg", "12.5"));
    assertThat(page.statusCode()).isEqualTo(409);
    assertThat(page.body()).contains("taken already").doesNotContain("12.5");
    assertThat(asked("technician", id).get("turn").asInt()).isEqualTo(2);
    assertThat(ApiClient.json(person("qa2").get("/api/v1/gauge-studies/" + id + "/values")))
        .hasSize(1);
  }

  @Test
  void theBenchAsksForTheValueOnceThePartIsConnected() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    String asked = next("technician", id);
    String other = asked.equals(shop.serial(1)) ? shop.serial(2) : shop.serial(1);
    PageClient bench = pages("technician");
    String path = "/bench/gauge/" + id;
    assertThat(bench.get(path).body()).contains("Connect " + asked).doesNotContain("phaseDeg");
    assertThat(bench.get(path + "?serial=" + other).body())
        .contains("This is " + other)
        .doesNotContain("phaseDeg");
    assertThat(bench.get(path + "?serial=" + asked).body())
        .contains("name=\"phaseDeg\"")
        .doesNotContain("Take it from");
    HttpResponse<String> wrong =
        bench.post(path + "/values", Map.of("turn", 1, "serial", asked, "phaseDeg", "12,5x"));
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body()).contains("Phase: ", "12,5x");
    HttpResponse<String> stored =
        bench.post(path + "/values", Map.of("turn", 1, "serial", asked, "phaseDeg", "12,5"));
    assertThat(stored.statusCode()).isEqualTo(302);
    assertThat(bench.get(path).body())
        .contains("Measurement 1, of " + asked + ", is taken", "Connect " + other)
        .doesNotContain("12,5")
        .doesNotContain("12.5");
    assertThat(pages("qa2").get(path).body()).contains("is no appraiser of this study");
  }

  /** Those who measure see no value while it runs, by none of the ways there are. */
  @Test
  void nobodyWhoMeasuresSeesAValueWhileItRuns() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    value("technician", id, next("technician", id), 123.456789);
    person("technician").post("/api/v1/bench/gauge/" + id + "/strike", "{\"reason\": \"slip\"}");
    value("technician", id, next("technician", id), 123.456789);

    String study = "/gauge-studies/" + id;
    for (String person : List.of("technician", "qa", "planner")) {
      PageClient pages = pages(person);
      for (String file : List.of("/values.csv", "/values.xlsx", "/figures.csv")) {
        HttpResponse<String> answer = pages.get(study + file);
        assertThat(answer.statusCode()).as(person + file).isEqualTo(409);
        assertThat(answer.body()).contains("is running").doesNotContain("123.4");
      }
      assertThat(pages.get(study).body())
          .contains("shown only to QA who do not measure in it")
          .doesNotContain("123.4")
          .doesNotContain("values.csv");
      assertThat(pages.get("/bench/gauge/" + id).body()).doesNotContain("123.4");
    }
    for (String person : List.of("technician", "qa")) {
      ApiClient api = person(person);
      assertThat(api.get("/api/v1" + study + "/values").statusCode()).isEqualTo(409);
      for (String path :
          List.of(study, study + "/values", study + "/analysis", "/bench/gauge/" + id + "/next")) {
        assertThat(api.get("/api/v1" + path).body()).doesNotContain("123.4");
      }
    }
    assertThat(ApiClient.json(shop.qa.get("/api/v1/audit/chain")).get("intact").asBoolean())
        .isTrue();
    String log =
        person("qa").get("/api/v1/audit?subjectType=gauge%20study&subjectKey=" + id).body();
    assertThat(log).contains("GAUGE_VALUE_TAKEN", "GAUGE_VALUE_STRUCK").doesNotContain("123.4");

    assertThat(person("qa2").get("/api/v1" + study + "/values").body()).contains("123.456789");
    PageClient looking = pages("qa2");
    assertThat(looking.get(study).body()).contains("You may see them", "123.456789", "slip");
    assertThat(looking.get(study + "/values.csv").body()).contains("123.456789");

    for (String person : List.of("technician", "qa")) {
      while (asked(person, id).get("left").asInt() > 0) {
        value(person, id, next(person, id), next(person, id).equals(shop.serial(1)) ? 123 : 120);
      }
    }
    assertThat(pages("technician").get(study + "/values.csv").body()).contains("123.456789");
  }

  @Test
  void theSeedIsDrawnUnlessItIsGiven() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    Map<String, Object> form =
        Map.of(
            "name", "By form",
            "benchId", shop.benchId,
            "frequencyGhz", "2.8",
            "toleranceWidthDeg", "6",
            "trials", "2",
            "parts", shop.serial(1) + "\n" + shop.serial(2),
            "appraisers", List.of("technician", "qa"));
    PageClient pages = pages("qa");
    assertThat(seed(pages, form, "4711")).isEqualTo(4711);
    assertThat(seed(pages, form, "")).isNotEqualTo(seed(pages, form, ""));
    Map<String, Object> bad = new HashMap<>(form);
    bad.put("seed", "1.5");
    HttpResponse<String> refused = pages.post("/gauge-studies", bad);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body()).contains("is 1.5; a whole number");
  }

  private long seed(PageClient pages, Map<String, Object> form, String typed) {
    Map<String, Object> all = new HashMap<>(form);
    all.put("seed", typed);
    String at = pages.location(pages.post("/gauge-studies", all));
    JsonNode study = ApiClient.json(shop.qa.get("/api/v1" + at));
    assertThat(pages.get(at).body()).contains(">" + study.get("seed").asLong() + "<");
    return study.get("seed").asLong();
  }

  @Test
  void aPlanThatCannotBeRunIsRefusedByField() {
    shop.order(2, "NOMINAL", "ABSOLUTE", "", "\"decisionRule\": \"SIMPLE\",");
    String good = draft(2, List.of("technician", "qa"), 2);
    for (String[] bad :
        new String[][] {
          {good.replace("\"trials\": 2", "\"trials\": 1"), "trials"},
          {good.replace(shop.serial(2), "NOBODY"), "parts"},
          {good.replace("\"qa\"", "\"planner\""), "appraisers"},
          {
            good.replace("\"toleranceWidthDeg\": 8", "\"toleranceWidthDeg\": -1"),
            "toleranceWidthDeg"
          }
        }) {
      HttpResponse<String> answer = shop.qa.post("/api/v1/gauge-studies", bad[0]);
      assertThat(answer.statusCode()).as(bad[1]).isEqualTo(400);
      assertThat(answer.body()).contains(bad[1]);
    }
    assertThat(shop.technician.post("/api/v1/gauge-studies", good).statusCode()).isEqualTo(403);
  }
}
