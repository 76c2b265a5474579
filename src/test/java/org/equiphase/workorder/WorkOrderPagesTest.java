package org.equiphase.workorder;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import tools.jackson.databind.JsonNode;

/** The planner's form: success, field errors with what was typed kept, not found, and revision. */
@ExtendWith(RunningService.Extension.class)
class WorkOrderPagesTest {

  private final RunningService service;
  private final PageClient pages;
  private final ApiClient api;

  WorkOrderPagesTest(RunningService service) {
    this.service = service;
    this.pages = service.pages(Role.PLANNER);
    this.api = service.api(Role.PLANNER);
  }

  @Test
  void createsAnOrderFromTheForm() {
    HttpResponse<String> answer = pages.post("/workorders", form("F-1", "F1"));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(302);
    assertThat(pages.location(answer)).isEqualTo("/workorders/F-1");
    assertThat(pages.get("/workorders/F-1").body()).contains("3 awaiting reading", "± 12.5 mm");

    JsonNode order = ApiClient.json(api.get("/api/v1/workorders/F-1"));
    JsonNode specification = order.get("order").get("specification");
    assertThat(specification.get("frequencies")).hasSize(2);
    assertThat(specification.get("frequencies").get(1).get("toleranceDeg").asDouble())
        .isEqualTo(3.5);
    assertThat(specification.get("aimFraction").asDouble()).isEqualTo(0.3);
    JsonNode position = order.get("sets").get(0).get("positions").get(1);
    assertThat(position.get("offsetPhaseDeg").asDouble()).isEqualTo(-22.5);
    assertThat(order.get("assemblies")).hasSize(3);

    JsonNode revised = change(order, order.get("order").get("version").asInt());
    assertThat(revised.get("order").get("revision").asString()).isEqualTo("B");
    assertThat(put(order, order.get("order").get("version").asInt()).statusCode()).isEqualTo(409);
  }

  @Test
  void saysWhatIsWrongAndKeepsWhatWasTyped() {
    Map<String, Object> form = form("F-2", "F2");
    form.put("nominalLengthMm", "one metre");
    form.put("frequencies", "2800; three\n2700; 3");
    form.put("positions", "A; 1\nA; 2; F2 2");
    HttpResponse<String> answer = pages.post("/workorders", form);
    assertThat(answer.statusCode()).isEqualTo(400);
    assertThat(answer.body())
        .contains("<a href=\"#nominalLengthMm\">Nominal length &quot;one metre&quot; is no number")
        .contains("id=\"nominalLengthMm-error\"", "id=\"frequencies-error\"")
        .contains("Line 1: tolerance &quot;three&quot; is no number")
        .contains("frequencies, line 1: tolerance")
        .contains("positions, line 1: columns")
        .contains("value=\"one metre\"");
    assertThat(api.get("/api/v1/workorders/F-2").statusCode()).isEqualTo(404);
    assertThat(pages.get("/workorders/F-2").statusCode()).isEqualTo(404);
  }

  /** Of a wave into an open or a short all comes back (common practice, no source). */
  @Test
  void aVswrLimitIsForTransmission() {
    Map<String, Object> form = form("F-V", "FV");
    form.put("vswrLimit", "1.3");
    form.put("method", "REFLECTION_OPEN");
    HttpResponse<String> refused = pages.post("/workorders", form);
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(refused.body())
        .contains("id=\"vswrLimit-error\"", "measure in transmission", "value=\"1.3\"");
    form.put("method", "TRANSMISSION");
    assertThat(pages.post("/workorders", form).statusCode()).isEqualTo(302);
  }

  @Test
  void aNumberOrSerialIsGivenOnce() {
    assertThat(pages.post("/workorders", form("F-3", "F3")).statusCode()).isEqualTo(302);
    HttpResponse<String> again = pages.post("/workorders", form("F-3", "F3"));
    assertThat(again.statusCode()).isEqualTo(400);
    assertThat(again.body()).contains("F-3 exists already", "F3-1 exists already");
  }

  @Test
  void aTemplateSettlesHowASetIsMatchedAndNothingElse() {
    String page = pages.get("/workorders/new?template=NARROW_BAND_CW").body();
    assertThat(page)
        .contains("For sets that work at one frequency")
        .containsPattern("value=\"MODULO_360\" selected")
        .containsPattern("value=\"GUARDED\" selected");
    for (String field :
        List.of(
            "nominalLengthMm",
            "nominalLengthToleranceMm",
            "nominalDelayNs",
            "trimAllowanceMm",
            "cutStandardUncertaintyMm")) {
      assertThat(page).containsPattern("name=\"" + field + "\" value=\"\"");
    }
    assertThat(pages.get("/workorders/new?template=NO_SUCH").statusCode()).isEqualTo(400);
  }

  @Test
  void countsSerialsByPattern() {
    Map<String, Object> form = form("F-5", "F5");
    form.put("positions", "A; CH{1..3}; F5-A-{001..003}\nB; CH1; F5-X; 10\nB; CH2");
    form.put("serialPattern", "F5-B-{07}");
    form.put("pool", "F5-P{1..2}");
    HttpResponse<String> answer = pages.post("/workorders", form);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(302);
    String order = api.get("/api/v1/workorders/F-5").body();
    assertThat(order)
        .contains("F5-A-001", "F5-A-002", "F5-A-003", "F5-X", "F5-B-07", "F5-P1", "F5-P2");

    form.put("number", "F-6");
    form.put("positions", "A; CH{1..2}; F6-{001..003}\nA; CH4; F5-A-002\nA; CH5; F6-{3..1}");
    form.put("serialPattern", "");
    HttpResponse<String> wrong = pages.post("/workorders", form);
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body())
        .contains("positions, line 1: serial is &quot;F6-{001..003}&quot;", "makes 3 where 2")
        .contains("positions, line 3: serial", "counts down");
    form.put("positions", "A; CH{1..2}; F6-{001}\nA; CH4; F5-A-002");
    assertThat(pages.post("/workorders", form).body())
        .contains("positions, line 2: serial F5-A-002 exists already")
        .contains("in no set, line 1: serial F5-P1 exists already");
  }

  @Test
  void theApiCountsTooAndTellsTheFirstCut() {
    JsonNode first = created("F-7", "F7");
    String body =
        """
        {"number": "F-8", "title": "invented", "specification": %s, "serialPattern": "F8-{01}",
         "sets": [{"name": "A", "positions": [{"label": "{1..16}", "serial": ""}]}],
         "poolSerials": ["F8-P{1..2}"]}
        """
            .formatted(first.get("order").get("specification"));
    body = body.replace("\"serial\": \"\"", "\"offsetPhaseDeg\": 0, \"offsetDelayPs\": 0");
    HttpResponse<String> answer = api.post("/api/v1/workorders", body);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    JsonNode order = ApiClient.json(answer);
    assertThat(order.get("assemblies")).hasSize(18);
    // 1000 mm at v = 0.7 ± 0.002: ± 0.002 · 1000/0.7 = ± 2.857 mm; 1000 + 20 − 2.857 = 1017.1 mm.
    JsonNode cut = order.get("firstCuts").get(0);
    assertThat(cut.get("count").asInt()).isEqualTo(18);
    assertThat(cut.get("cut").get("cutMm").asDouble()).isEqualTo(1017.1);
    assertThat(pages.get("/workorders/F-8").body())
        .contains("18 × cut to 1017.1 mm, the finished 1000.0 ± 2.9 mm");
    // 18 · (1017.1 + 3) mm and 10 % on top are 20.197 98 m.
    assertThat(pages.get("/workorders/F-8?kerfMm=3&wastePercent=10").body()).contains("20.20 m");
    assertThat(pages.get("/workorders/F-8?kerfMm=x").body()).contains("is no number");
    assertThat(
            ApiClient.json(api.get("/api/v1/workorders/F-8/cable?kerfMm=3&wastePercent=10"))
                .get("metres")
                .asDouble())
        .isCloseTo(20.19798, within(1e-9));
  }

  /** −22.5° at 2.8 GHz and 2.9 GHz: cables that differ get first cuts that differ. */
  @Test
  void eachOffsetHasItsFirstCut() {
    JsonNode order = created("F-9", "F9");
    assertThat(order.get("firstCuts")).hasSize(2);
    double apart =
        order.get("firstCuts").get(1).get("cut").get("finishedMm").asDouble()
            - order.get("firstCuts").get(0).get("cut").get("finishedMm").asDouble();
    // One turn is v·λ; at the mean of 2.85 GHz 0.7 · 299 792.458 / 2850 = 73.633 mm, 22.5/360 of
    // it.
    assertThat(Math.abs(apart)).isCloseTo(73.633 * 22.5 / 360, within(0.01));
  }

  @Test
  void aCopyAsksForNewSerials() {
    created("F-10", "F10");
    String page = pages.get("/workorders/new?copy=F-10").body();
    assertThat(page)
        .contains("Copied from order F-10", "A; 2; ; -22.5; 0", "2900; 3.5", "value=\"1000\"")
        .doesNotContain("F10-1", "LOT 7");
    assertThat(pages.get("/workorders/new?copy=no-such").statusCode()).isEqualTo(404);
  }

  @Test
  void aRevisionChangesOffsetsAndAddsASet() {
    JsonNode order = created("F-12", "F12");
    String sets =
        """
        [{"name": "A", "positions": [
           {"label": "1", "serial": "F12-1", "offsetPhaseDeg": 0, "offsetDelayPs": 1.5},
           {"label": "2", "serial": "F12-2", "offsetPhaseDeg": -22.5, "offsetDelayPs": 0}]},
         {"name": "B", "positions": [
           {"label": "1", "serial": "F12-B1", "offsetPhaseDeg": 0, "offsetDelayPs": 0}]}]
        """;
    HttpResponse<String> wrong = revise(order, sets.replace("F12-2", "F12-3").replace("B1", "1"));
    assertThat(wrong.statusCode()).isEqualTo(400);
    assertThat(wrong.body())
        .contains("sets[0].positions[1].serial", "is F12-3, where F12-2 stands")
        .contains("sets[1].positions[0].serial", "stands twice");
    HttpResponse<String> without = revise(order, sets.replace("\"A\"", "\"C\""));
    assertThat(without.statusCode()).isEqualTo(400);
    assertThat(without.body()).contains("lack set A");

    HttpResponse<String> answer = revise(order, sets);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    JsonNode revised = ApiClient.json(answer);
    assertThat(revised.at("/order/revision").asString()).isEqualTo("B");
    assertThat(revised.at("/sets/0/positions/0/offsetDelayPs").asDouble()).isEqualTo(1.5);
    assertThat(revised.at("/sets/1/name").asString()).isEqualTo("B");
    assertThat(revised.get("assemblies")).hasSize(4);
    assertThat(pages.get("/workorders/F-12").body())
        .contains("A / 1: 0°, 0 ps → A / 1: 0°, 1.5 ps", "Set added", "B: F12-B1");
    assertThat(revise(revised, sets).body()).contains("change something");
    assertThat(pages.get("/workorders/F-12/revise").body())
        .contains("A; 1; F12-1; 0; 1.5", "A; 2; F12-2; -22.5; 0", "B; 1; F12-B1; 0; 0");
  }

  private HttpResponse<String> revise(JsonNode order, String sets) {
    return api.post(
        "/api/v1/workorders/F-12/revisions",
        """
        {"version": %d, "title": "invented", "specification": %s, "sets": %s, "reason": "steered"}
        """
            .formatted(order.at("/order/version").asInt(), order.at("/order/specification"), sets));
  }

  @Test
  void addressesOfPagesAreNoNumbers() {
    assertThat(pages.post("/workorders", form("imports", "F11")).body())
        .contains("the address of a page");
  }

  private JsonNode created(String number, String prefix) {
    HttpResponse<String> answer = pages.post("/workorders", form(number, prefix));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(302);
    return ApiClient.json(api.get("/api/v1/workorders/" + number));
  }

  @Test
  void onlyAPlannerCreatesOrders() {
    assertThat(service.pages(Role.TECHNICIAN).post("/workorders", form("F-4", "F4")).statusCode())
        .isEqualTo(403);
  }

  private JsonNode change(JsonNode order, int version) {
    HttpResponse<String> answer = put(order, version);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }

  private HttpResponse<String> put(JsonNode order, int version) {
    String specification =
        order.get("order").get("specification").toString().replace("12.5", "13.5");
    return api.put(
        "/api/v1/workorders/F-1",
        "{\"version\": %d, \"title\": \"invented\", \"specification\": %s}"
            .formatted(version, specification));
  }

  private Map<String, Object> form(String number, String prefix) {
    Map<String, Object> form = new LinkedHashMap<>();
    form.put("number", number);
    form.put("title", "invented");
    form.put("dueOn", "2027-01-31");
    form.put("cableTypeId", cableTypeId(number));
    form.put("connector", "N");
    form.put("connectorTorqueNm", "1,5");
    form.put("method", "TRANSMISSION");
    form.put("basis", "SET");
    form.put("turns", "ABSOLUTE");
    form.put("nominalLengthMm", "1000");
    form.put("nominalLengthToleranceMm", "12,5");
    form.put("nominalDelayNs", "");
    form.put("trimAllowanceMm", "20");
    form.put("cutResolutionMm", "0.1");
    form.put("cutStandardUncertaintyMm", "0.1");
    form.put("tooShortPercent", "2");
    form.put("cableLot", "LOT 7");
    form.put("temperatureLowC", "-40");
    form.put("temperatureHighC", "70");
    form.put("lineStretcherId", "");
    form.put("stretcherStartMm", "");
    form.put("aimPercent", "30");
    form.put("vswrLimit", "");
    form.put("referenceTemperatureC", "23");
    form.put("decisionRule", "SIMPLE");
    form.put("guardFactor", "1");
    form.put("frequencies", "2800; 3; 1.6\n2900; 3,5");
    form.put("positions", "A; 1; %1$s-1\nA; 2; %1$s-2; -22.5".formatted(prefix));
    form.put("pool", prefix + "-3");
    return form;
  }

  private long cableTypeId(String number) {
    HttpResponse<String> answer =
        api.post(
            "/api/v1/catalog/cable-types",
            """
            {"name": "%s cable (invented) %d", "velocityFactor": 0.7,
             "velocityFactorTolerance": 0.002, "impedanceOhm": 50, "skinLossDbPerM": 0.4,
             "dielectricLossDbPerM": 0.02, "temperatureCurve": [], "note": ""}
            """
                .formatted(number, System.nanoTime()));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }
}
