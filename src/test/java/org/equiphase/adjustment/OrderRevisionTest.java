package org.equiphase.adjustment;

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

/** An order that is revised while it is worked on. */
@ExtendWith(RunningService.Extension.class)
class OrderRevisionTest {

  private static final String SIMPLE = "\"decisionRule\": \"SIMPLE\",";
  private static final String TOLERANCE = "\"toleranceDeg\":3.0";

  private final RunningService service;
  private final SmallShop shop;

  OrderRevisionTest(RunningService service) {
    this.service = service;
    this.shop = new SmallShop(service);
  }

  @Test
  void aCutOfTheOldRevisionIsSignedOffNoMore() {
    long set = shop.order(2, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    // 0.4 mm are 1.94° at 2.8 GHz: within ± 3°, out of ± 1.5°.
    shop.measure(shop.serial(2), 1000.4);
    JsonNode old = shop.member(set, shop.serial(1)).get("current");
    assertThat(shop.member(set, shop.serial(2)).get("verdict").asString())
        .isEqualTo("IN_TOLERANCE");

    JsonNode revised = revised(TOLERANCE, "\"toleranceDeg\":1.5", "the customer asks for ± 1.5°");

    assertThat(revised.get("order").get("revision").asString()).isEqualTo("B");
    JsonNode revision = revised.get("revisions").get(0);
    assertThat(revision.get("reason").asString()).isEqualTo("the customer asks for ± 1.5°");
    assertThat(revision.get("by").asString()).isEqualTo(RunningService.username(Role.PLANNER));
    assertThat(revision.get("changes").get(0).get("field").asString()).isEqualTo("frequencies");
    assertThat(revision.get("changes").get(0).get("after").asString()).contains("±1.5°");
    assertThat(shop.signOff(old, 3.9).statusCode()).isEqualTo(409);
    JsonNode present = shop.member(set, shop.serial(1)).get("current");
    assertThat(present.get("id").asLong()).isGreaterThan(old.get("id").asLong());
    assertThat(present.get("state").asString()).isEqualTo("ISSUED");
    assertThat(shop.state(set, shop.serial(2))).isEqualTo("INSTRUCTED");
    assertThat(shop.signOff(present, present.get("trimMm").asDouble()).statusCode()).isEqualTo(200);
    assertThat(ApiClient.json(shop.technician.get("/api/v1/readings?serial=" + shop.serial(1))))
        .hasSize(1);
    assertThat(service.pages(Role.TECHNICIAN).get("/workorders/" + shop.orderNumber()).body())
        .contains("the customer asks for ± 1.5°", "2800 MHz ±3°")
        .doesNotContain("/revise\"");
    assertThat(chainIsWhole()).isTrue();
  }

  @Test
  void theSameWorkIsAskedForAnew() {
    long set = shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    JsonNode old = shop.member(set, shop.serial(1)).get("current");
    revised("\"connector\":\"SMA\"", "\"connector\":\"N\"", "another connector");
    JsonNode present = shop.member(set, shop.serial(1)).get("current");
    assertThat(present.get("trimMm")).isEqualTo(old.get("trimMm"));
    assertThat(shop.signOff(old, 3.9).statusCode()).isEqualTo(409);
    assertThat(shop.signOff(present, 3.9).statusCode()).isEqualTo(200);
  }

  @Test
  void keepsWhatTheReadingsRestOn() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    refused(
        "\"nominalLengthMm\":1000.0", "\"nominalLengthMm\":900.0", "specification.nominalLengthMm");
    refused(
        "\"method\":\"TRANSMISSION\"", "\"method\":\"REFLECTION_OPEN\"", "specification.method");
    refused("\"frequencyHz\":2.8E9", "\"frequencyHz\":2.9E9", "specification.frequencies");
    refused(TOLERANCE, TOLERANCE, "specification");
    HttpResponse<String> noReason = revise(TOLERANCE, "\"toleranceDeg\":2.0", " ");
    assertThat(noReason.statusCode()).isEqualTo(400);
    assertThat(noReason.body()).contains("reason");
    assertThat(order().get("revision").asString()).isEqualTo("A");
  }

  /** The target of a free set is fixed by its first cut, counted from the nominal delay. */
  @Test
  void keepsTheDelayThatAFixedTargetIsCountedFrom() {
    long set = shop.order(2, "SET", "ABSOLUTE", "", SIMPLE + "\"nominalDelayNs\": 4.8,");
    shop.measure(shop.serial(1), 1004);
    shop.measure(shop.serial(2), 1000);
    JsonNode cut = shop.member(set, shop.serial(1)).get("current");
    assertThat(revise("\"nominalDelayNs\":4.8", "\"nominalDelayNs\":4.81", "new").statusCode())
        .isEqualTo(200);
    JsonNode present = shop.member(set, shop.serial(1)).get("current");
    assertThat(present.get("id")).isNotEqualTo(cut.get("id"));
    shop.signOff(present, present.get("trimMm").asDouble());
    refused("\"nominalDelayNs\":4.81", "\"nominalDelayNs\":4.8", "specification.nominalDelayNs");
  }

  @Test
  void aReleasedSetIsNotRevised() {
    long set = shop.order(2, "SET", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1000);
    shop.measure(shop.serial(2), 1000.1);
    ApiClient qa = service.basic(RunningService.username(Role.QA), RunningService.PASSWORD);
    HttpResponse<String> release =
        qa.post(
            "/api/v1/release/sets/" + set,
            "{\"password\": \"%s\"}".formatted(RunningService.PASSWORD));
    assertThat(release.statusCode()).as(release.body()).isEqualTo(201);
    HttpResponse<String> answer = revise(TOLERANCE, "\"toleranceDeg\":2.0", "tighter");
    assertThat(answer.statusCode()).isEqualTo(409);
    assertThat(answer.body()).contains("released");
    assertThat(order().get("revision").asString()).isEqualTo("A");
  }

  @Test
  void revisesFromItsPage() {
    shop.order(1, "NOMINAL", "ABSOLUTE", "", SIMPLE);
    shop.measure(shop.serial(1), 1004);
    PageClient pages = service.pages(Role.PLANNER);
    String address = "/workorders/" + shop.orderNumber() + "/revise";
    String form = pages.get(address).body();
    assertThat(form).contains("revision A becomes B", "value=\"1000\"", "2800; 3; 2");

    Map<String, Object> fields = fields();
    fields.put("frequencies", "2800; two; 2");
    HttpResponse<String> unread = pages.post(address, fields);
    assertThat(unread.statusCode()).isEqualTo(400);
    assertThat(unread.body()).contains("frequencies, line 1: tolerance", "tighter");

    fields.put("frequencies", "2800; 2; 2");
    HttpResponse<String> done = pages.post(address, fields);
    assertThat(done.statusCode()).as(done.body()).isEqualTo(302);
    assertThat(order().get("revision").asString()).isEqualTo("B");

    assertThat(pages.post(address, fields).statusCode()).isEqualTo(400);
    fields.put("frequencies", "2800; 2.5; 2");
    HttpResponse<String> outdated = pages.post(address, fields);
    assertThat(outdated.statusCode()).isEqualTo(409);
    assertThat(outdated.body()).contains("changed by someone else");
  }

  private Map<String, Object> fields() {
    Map<String, Object> fields = new LinkedHashMap<>();
    JsonNode order = order();
    fields.put("version", order.get("version").asInt());
    fields.put("reason", "tighter");
    fields.put("title", "invented");
    fields.put("cableTypeId", order.get("specification").get("cableTypeId").asLong());
    fields.put("connector", "SMA");
    fields.put("connectorTorqueNm", "0.9");
    fields.put("connectorElectricalMm", "0");
    fields.put("connectorCableMm", "0");
    fields.put("method", "TRANSMISSION");
    fields.put("basis", "NOMINAL");
    fields.put("turns", "ABSOLUTE");
    fields.put("nominalLengthMm", "1000");
    fields.put("nominalLengthToleranceMm", "20");
    fields.put("trimAllowanceMm", "20");
    fields.put("cutResolutionMm", "0.1");
    fields.put("cutStandardUncertaintyMm", "0.05");
    fields.put("tooShortPercent", "2");
    fields.put("lineStretcherId", "");
    fields.put("aimPercent", "30");
    fields.put("referenceTemperatureC", "23");
    fields.put("decisionRule", "SIMPLE");
    fields.put("guardFactor", "1");
    return fields;
  }

  private JsonNode order() {
    return ApiClient.json(shop.planner.get("/api/v1/workorders/" + shop.orderNumber()))
        .get("order");
  }

  private HttpResponse<String> revise(String from, String to, String reason) {
    JsonNode order = order();
    String specification = order.get("specification").toString();
    assertThat(specification).contains(from);
    return shop.planner.post(
        "/api/v1/workorders/" + shop.orderNumber() + "/revisions",
        "{\"version\": %d, \"title\": \"invented\", \"reason\": \"%s\", \"specification\": %s}"
            .formatted(order.get("version").asInt(), reason, specification.replace(from, to)));
  }

  private JsonNode revised(String from, String to, String reason) {
    HttpResponse<String> answer = revise(from, to, reason);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return ApiClient.json(answer);
  }

  private void refused(String from, String to, String field) {
    HttpResponse<String> answer = revise(from, to, "to try");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(400);
    assertThat(ApiClient.json(answer).get("errors").get(0).get("field").asString())
        .isEqualTo(field);
  }

  private boolean chainIsWhole() {
    return ApiClient.json(shop.qa.get("/api/v1/audit/chain")).get("intact").asBoolean();
  }
}
