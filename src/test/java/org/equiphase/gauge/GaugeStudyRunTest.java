package org.equiphase.gauge;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.equiphase.ApiClient;
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

  private HttpResponse<String> value(String person, long id, String serial, double phaseDeg) {
    return person(person)
        .post(
            "/api/v1/bench/gauge/" + id + "/values",
            String.format(
                Locale.ROOT, "{\"serial\": \"%s\", \"phaseDeg\": %.6f}", serial, phaseDeg));
  }

  private ApiClient person(String name) {
    return Objects.requireNonNull(people.get(name));
  }

  private String next(String person, long id) {
    return ApiClient.json(person(person).get("/api/v1/bench/gauge/" + id + "/next"))
        .get("serial")
        .asString();
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
    double[] printed = {0.20188, 0.22963, 0, 0.30575, 1.10456, 1.14610};
    for (int i = 0; i < printed.length; i++) {
      assertThat(shares.get(i).get("deviationDeg").asDouble())
          .as(shares.get(i).get("name").asString())
          .isCloseTo(printed[i], within(2e-4));
    }
    assertThat(analysis.get("byRange").get("gaugePercent").asDouble())
        .isCloseTo(26.68, within(0.03));
    assertThat(analysis.get("byRange").get("distinctCategories").asInt()).isEqualTo(5);
    // Six deviations over a tolerance of 8.
    assertThat(shares.get(3).get("percentOfTolerance").asDouble())
        .isCloseTo(100 * 6 * 0.30575 / 8, within(0.05));

    // The manual rounds K1 to four digits and so prints 0.20188.
    String page = service.pages(Role.QA).get("/gauge-studies/" + id).body();
    assertThat(page).contains("0.20186").contains("26.68").contains("complete");
    assertThat(service.pages(Role.QA).get("/gauge-studies/" + id + "/values.csv").body().lines())
        .hasSize(91);
    byte[] xlsx = service.pages(Role.QA).download("/gauge-studies/" + id + "/values.xlsx").body();
    try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(xlsx))) {
      assertThat(book.getSheetAt(0).getLastRowNum()).isEqualTo(90);
      assertThat(book.getSheetAt(0).getRow(1).getCell(1).getStringCellValue())
          .isEqualTo("technician");
    }
    assertThat(value("technician", id, shop.serial(1), 0).statusCode()).isEqualTo(409);
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
  void theOrderIsCompleteDiffersAndComesAgain() {
    List<String> parts = IntStream.range(0, 9).mapToObj(i -> "P" + i).toList();
    for (long seed = 0; seed < 50; seed++) {
      Study study =
          new Study(
              1,
              0,
              "s",
              1,
              1e9,
              1,
              3,
              seed,
              parts,
              List.of("a", "b"),
              "qa",
              Instant.EPOCH,
              Study.State.RUNNING,
              "");
      List<Turn> turns = Turn.of(study, 1);
      assertThat(new HashSet<>(turns)).hasSize(27);
      assertThat(turns).isEqualTo(Turn.of(study, 1));
      for (int trial = 0; trial < 3; trial++) {
        int t = trial;
        assertThat(turns.subList(9 * t, 9 * t + 9)).allMatch(turn -> turn.trial() == t);
      }
      assertThat(turns.subList(0, 9).stream().map(Turn::part).toList())
          .isNotEqualTo(turns.subList(9, 18).stream().map(Turn::part).toList());
    }
  }

  @Test
  void wrongPartWrongPersonAndStruckValues() {
    long id = plan(2, List.of("technician", "qa"), 2).get("id").asLong();
    String asked = next("technician", id);
    String other = asked.equals(shop.serial(1)) ? shop.serial(2) : shop.serial(1);
    HttpResponse<String> wrong = value("technician", id, other, 1);
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body()).contains("serial").contains(asked);
    assertThat(value("qa2", id, asked, 1).statusCode()).isEqualTo(409);
    assertThat(service.pages(Role.TECHNICIAN).get("/bench?benchId=" + shop.benchId).body())
        .contains("4 measurements left");

    assertThat(value("technician", id, asked, 1).statusCode()).isEqualTo(200);
    HttpResponse<String> struck =
        person("technician")
            .post("/api/v1/bench/gauge/" + id + "/strike", "{\"reason\": \"loose nut\"}");
    assertThat(struck.statusCode()).isEqualTo(200);
    assertThat(next("technician", id)).isEqualTo(asked);
    JsonNode values = ApiClient.json(shop.qa.get("/api/v1/gauge-studies/" + id + "/values"));
    assertThat(values).hasSize(1);
    assertThat(values.get(0).get("strikeReason").asString()).isEqualTo("loose nut");

    String cancel = "/api/v1/gauge-studies/" + id + "/cancel";
    assertThat(shop.technician.post(cancel, "{\"version\": 0, \"reason\": \"x\"}").statusCode())
        .isEqualTo(403);
    assertThat(shop.qa.post(cancel, "{\"version\": 5, \"reason\": \"x\"}").statusCode())
        .isEqualTo(409);
    assertThat(shop.qa.post(cancel, "{\"version\": 0, \"reason\": \"x\"}").statusCode())
        .isEqualTo(200);
    assertThat(value("technician", id, asked, 1).statusCode()).isEqualTo(409);
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
