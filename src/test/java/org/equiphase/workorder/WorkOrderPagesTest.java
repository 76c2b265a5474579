package org.equiphase.workorder;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.LinkedHashMap;
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
        .contains("nominalLengthMm", "&quot;one metre&quot; is no number")
        .contains("frequencies, line 1: tolerance")
        .contains("positions, line 1: columns")
        .contains("value=\"one metre\"");
    assertThat(api.get("/api/v1/workorders/F-2").statusCode()).isEqualTo(404);
    assertThat(pages.get("/workorders/F-2").statusCode()).isEqualTo(404);
  }

  @Test
  void aNumberOrSerialIsGivenOnce() {
    assertThat(pages.post("/workorders", form("F-3", "F3")).statusCode()).isEqualTo(302);
    HttpResponse<String> again = pages.post("/workorders", form("F-3", "F3"));
    assertThat(again.statusCode()).isEqualTo(400);
    assertThat(again.body()).contains("F-3 exists already", "F3-1 exists already");
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
