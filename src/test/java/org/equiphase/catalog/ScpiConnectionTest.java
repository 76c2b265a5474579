package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.equiphase.ApiClient;
import org.equiphase.PageClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.audit.AuditLog;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import tools.jackson.databind.JsonNode;

/** An instrument's network connection, over the API and on its page. */
@ExtendWith(RunningService.Extension.class)
class ScpiConnectionTest {

  private final RunningService service;
  private final ApiClient api;

  ScpiConnectionTest(RunningService service) {
    this.service = service;
    this.api = Sample.api(service);
  }

  @Test
  void whatIsLeftOutIsTheUsual() {
    JsonNode connection = ApiClient.json(sent("{\"host\": \"192.0.2.17\"}")).get("connection");

    assertThat(connection.get("port").asInt()).isEqualTo(5025);
    assertThat(connection.get("commands").get("IDENTIFY").asString()).isEqualTo("*IDN?");
    assertThat(connection.get("commands")).hasSize(ScpiStep.values().length);
  }

  @Test
  void commandsAreKeptAndCanBeLeftOut() {
    HttpResponse<String> stored =
        sent(
            """
            {"host": "analyzer-1.shop.example", "port": 4000, "connectTimeoutS": 0.5,
             "answerTimeoutS": 2, "sweepTimeoutS": 120, "referenceOhm": 75,
             "commands": {"DATA": "TRAC:DATA? {parameter}", "SELECT": "", "SPACING": ""}}
            """);
    String one = "/api/v1/catalog/instruments/" + ApiClient.json(stored).get("id").asLong();
    JsonNode connection = ApiClient.json(api.get(one)).get("connection");

    assertThat(connection.get("port").asInt()).isEqualTo(4000);
    assertThat(connection.get("referenceOhm").asDouble()).isEqualTo(75);
    assertThat(connection.get("commands").get("DATA").asString())
        .isEqualTo("TRAC:DATA? {parameter}");
    assertThat(connection.get("commands").get("SELECT").asString()).isEmpty();

    HttpResponse<String> back = api.put(one, api.get(one).body());
    assertThat(back.statusCode()).as(back.body()).isEqualTo(200);
    assertThat(ApiClient.json(back).get("connection")).isEqualTo(connection);
  }

  /** A reset would undo the calibration of every reading to come. */
  @ParameterizedTest
  @CsvSource({
    "host, \"two words\", is neither a host name nor an address",
    "host, \"-x\", is neither a host name nor an address",
    "host, null, is missing",
    "port, 0, 0 is out of range",
    "port, 65536, 65536 is out of range",
    "connectTimeoutS, 0.05, 0.05 s is out of range",
    "sweepTimeoutS, 601, 601 s is out of range",
    "referenceOhm, 0, 0 Ω is out of range",
    "commands, '{\"HOLD\": \"*RST\"}', would undo the instrument's calibration",
    "commands, '{\"FORMAT\": \"FORM ASC;:syst:preset\"}', would undo the instrument's calibration",
    "commands, '{\"POINTS\": \"\"}', is left out",
    "commands, '{\"POINTS\": \"SENS:SWE:POIN\"}', asks nothing",
    "commands, '{\"TRIGGER\": \"INIT;*OPC?\"}', asks for an answer that nobody reads",
    "commands, '{\"CLEAR\": \"*CLS\\n*CLS\"}', must be one line of ASCII",
    "commands, '{\"SELECT\": \"SENS:FUNC 1\"}', can't be told apart",
  })
  void refusesWhatCanNotBe(String field, String value, String said) {
    Map<String, String> connection = new LinkedHashMap<>(Map.of("host", "\"192.0.2.17\""));
    connection.put(field, value);
    HttpResponse<String> refused =
        api.post(
            "/api/v1/catalog/instruments",
            body(connection.toString().replaceAll("(\\{|, )([a-zA-Z]+)=", "$1\"$2\": ")));

    assertThat(refused.statusCode()).as(refused.body()).isEqualTo(400);
    JsonNode error = ApiClient.json(refused).get("errors").get(0);
    assertThat(error.get("field").asString()).isEqualTo("connection." + field);
    assertThat(error.get("message").asString()).contains(said);
  }

  @Test
  void theUsualCommandsAreNotRefused() {
    DraftProblems problems = new DraftProblems();
    ScpiConnections.check(ScpiConnection.usual("fe80::1", 5025), problems);
    assertThat(problems.messageByField()).isEmpty();
  }

  @Test
  void theFormStoresShowsAndRemovesIt() {
    PageClient pages = service.pages(Role.PLANNER);
    Map<String, Object> form = new LinkedHashMap<>(Sample.of("instruments", service).form());
    form.put("connection.host", "analyzer-2.shop.example");
    form.put("connection.answerTimeoutS", "2,5");
    form.put("connection.commands", "spacing\nDATA TRAC:DATA? {parameter}\n");

    HttpResponse<String> saved = pages.post("/catalog/instruments", form);
    assertThat(saved.statusCode()).isIn(302, 303);
    long id = id(String.valueOf(form.get("name")));
    String page = pages.get("/catalog/instruments/" + id).body();
    assertThat(page)
        .contains("value=\"analyzer-2.shop.example\"", "value=\"5025\"", "value=\"2.5\"")
        .contains("DATA TRAC:DATA? {parameter}", "TRIGGER INIT:IMM");
    assertThat(page).containsPattern("(?m)^SPACING$");

    form.put("connection.commands", "DATTA CALC:DATA?");
    form.put("version", 1);
    assertThat(pages.post("/catalog/instruments/" + id, form).body())
        .contains("“DATTA” is no step");

    form.put("connection.host", "");
    assertThat(pages.post("/catalog/instruments/" + id, form).statusCode()).isIn(302, 303);
    assertThat(
            ApiClient.json(api.get("/api/v1/catalog/instruments/" + id)).get("connection").isNull())
        .isTrue();
    assertThat(
            service
                .bean(AuditLog.class)
                .entries(null, "instrument", String.valueOf(form.get("name")), null, 1)
                .get(0)
                .details())
        .contains("analyzer-2.shop.example:5025");
  }

  private long id(String name) {
    for (JsonNode instrument : ApiClient.json(api.get("/api/v1/catalog/instruments"))) {
      if (instrument.get("name").asString().equals(name)) {
        return instrument.get("id").asLong();
      }
    }
    throw new AssertionError("no instrument " + name);
  }

  private HttpResponse<String> sent(String connection) {
    HttpResponse<String> answer = api.post("/api/v1/catalog/instruments", body(connection));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return answer;
  }

  private static String body(String connection) {
    return """
        {"name": "%s", "serialNumber": "INV-7", "phaseStandardUncertaintyDeg": 0.2,
         "calibrationDue": "2099-01-31", "connection": %s}
        """
        .formatted(Sample.newName(), connection);
  }
}
