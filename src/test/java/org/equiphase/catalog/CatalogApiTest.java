package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.audit.AuditEntry;
import org.equiphase.audit.AuditLog;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;

@ExtendWith(RunningService.Extension.class)
class CatalogApiTest {
  private static final String SAMPLES = "org.equiphase.catalog.Sample#paths";
  private static final long NOBODY = 999_999_999L;

  private final RunningService service;
  private final ApiClient api;

  CatalogApiTest(RunningService service) {
    this.service = service;
    this.api = Sample.api(service);
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void addsAndAnswersWhatWasSent(String path) {
    Sample sample = Sample.of(path, service);

    long id = sample.store(service);
    HttpResponse<String> stored = api.get(sample.api() + "/" + id);
    assertThat(stored.statusCode()).isEqualTo(200);
    JsonNode body = ApiClient.json(stored);
    assertThat(body.get("version").asInt()).isEqualTo(1);
    assertThat(withoutDecimalZeros(body.toString()))
        .contains(withoutDecimalZeros(sample.jsonFields()));
    assertThat(api.get(sample.api()).body()).contains("\"" + sample.name() + "\"");
  }

  /** What was sent as 10 comes back as 10.0. */
  private static Iterable<String> withoutDecimalZeros(Iterable<String> json) {
    List<String> texts = new ArrayList<>();
    json.forEach(text -> texts.add(withoutDecimalZeros(text)));
    return texts;
  }

  private static String withoutDecimalZeros(String json) {
    return json.replaceAll("(\\d)\\.0\\b", "$1");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void answersWhereTheNewEntryIs(String path) {
    Sample sample = Sample.of(path, service);
    HttpResponse<String> added = api.post(sample.api(), sample.json(0));
    assertThat(added.statusCode()).isEqualTo(201);
    String location = added.headers().firstValue("Location").orElseThrow();
    assertThat(location).matches(sample.api() + "/\\d+");
    assertThat(api.get(location).body()).isEqualTo(added.body());
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void changesAndRefusesAStaleVersion(String path) {
    Sample sample = Sample.of(path, service);
    String one = sample.api() + "/" + sample.store(service);

    HttpResponse<String> changed = api.put(one, sample.json(1));
    assertThat(changed.statusCode()).as(changed.body()).isEqualTo(200);
    assertThat(ApiClient.json(changed).get("version").asInt()).isEqualTo(2);

    HttpResponse<String> stale = api.put(one, sample.json(1));
    assertThat(stale.statusCode()).isEqualTo(409);
    assertThat(ApiClient.json(stale).get("detail").asString())
        .contains(sample.name(), "version 1", "version 2");
    assertThat(api.get(one).body()).isEqualTo(changed.body());
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void whatWasReadCanBeSentBack(String path) {
    Sample sample = Sample.of(path, service);
    String one = sample.api() + "/" + sample.store(service);
    HttpResponse<String> back = api.put(one, api.get(one).body());
    assertThat(back.statusCode()).as(back.body()).isEqualTo(200);
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void refusesABadValueAndNamesIt(String path) {
    Sample sample = Sample.of(path, service);
    HttpResponse<String> refused =
        api.post(sample.api(), sample.jsonWith(sample.field(), Double.valueOf(sample.badNumber())));
    assertThat(refused.statusCode()).isEqualTo(400);
    JsonNode error = ApiClient.json(refused).get("errors").get(0);
    assertThat(error.get("field").asString()).isEqualTo(sample.field());
    assertThat(error.get("message").asString())
        .startsWith(NumberText.plain(Double.parseDouble(sample.badNumber())))
        .contains("; give ");
    assertThat(api.get(sample.api()).body()).doesNotContain("\"" + sample.name() + "\"");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void namesEveryMissingFieldAtOnce(String path) {
    HttpResponse<String> refused = api.post(Sample.API + path, "{}");
    assertThat(refused.statusCode()).isEqualTo(400);
    Set<String> fields = new HashSet<>();
    ApiClient.json(refused).get("errors").forEach(e -> fields.add(e.get("field").asString()));
    Set<String> needed = new HashSet<>(Sample.of(path, service).json().keySet());
    needed.removeAll(List.of("note", "temperatureCurve", "calibration"));
    needed.removeAll(List.of("endStandardId", "adapterIds"));
    if (path.equals("line-stretchers")) {
      needed.remove("calibrationDue");
    }
    assertThat(fields).isEqualTo(needed);
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void refusesATakenName(String path) {
    Sample sample = Sample.of(path, service);
    sample.store(service);
    HttpResponse<String> refused =
        api.post(
            sample.api(),
            sample.jsonWith("name", " " + sample.name().toUpperCase(Locale.ROOT) + " "));
    assertThat(refused.statusCode()).isEqualTo(400);
    assertThat(ApiClient.json(refused).get("errors").get(0).toString())
        .contains("\"name\"", "is taken");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void answersNotFound(String path) {
    Sample sample = Sample.of(path, service);
    assertThat(api.get(sample.api() + "/" + NOBODY).statusCode()).isEqualTo(404);
    assertThat(api.put(sample.api() + "/" + NOBODY, sample.json(1)).statusCode()).isEqualTo(404);
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void writesTheAuditLog(String path) {
    Sample sample = Sample.of(path, service);
    String one = sample.api() + "/" + sample.store(service);
    api.put(one, sample.jsonWith("version", 1).replace("invented for a test", "changed note"));
    api.put(one, sample.json(1));

    List<AuditEntry> entries =
        service.bean(AuditLog.class).entries(null, sample.auditType(), sample.name(), null, 10);
    assertThat(entries)
        .extracting(AuditEntry::action)
        .map(action -> action.substring(action.lastIndexOf('_')))
        .containsExactly("_CHANGED", "_ADDED");
    assertThat(entries).extracting(AuditEntry::actor).containsOnly("planner");
    assertThat(entries.get(0).details())
        .contains("\"note\":{\"from\":\"invented for a test\",\"to\":\"changed note\"}");
  }

  @ParameterizedTest
  @MethodSource(SAMPLES)
  void technicianReadsOnly(String path) {
    Sample sample = Sample.of(path, service);
    String one = sample.api() + "/" + sample.store(service);
    ApiClient technician = service.api(Role.TECHNICIAN);
    assertThat(technician.get(one).statusCode()).isEqualTo(200);
    assertThat(technician.post(sample.api(), sample.json(0)).statusCode()).isEqualTo(403);
    assertThat(technician.put(one, sample.json(1)).statusCode()).isEqualTo(403);
  }

  @Test
  void changingACurveReplacesItsPoints() {
    Sample sample = Sample.of("cable-types", service);
    String one = sample.api() + "/" + sample.store(service);
    HttpResponse<String> changed =
        api.put(one, sample.json(1).replace("\"temperatureC\":20", "\"temperatureC\":25"));
    JsonNode curve = ApiClient.json(changed).get("temperatureCurve");
    assertThat(curve.size()).isEqualTo(2);
    assertThat(curve.get(1).get("temperatureC").asDouble()).isEqualTo(25);
    assertThat(
            service
                .bean(AuditLog.class)
                .entries(null, "cable type", sample.name(), null, 1)
                .get(0)
                .details())
        .contains("{\"from\":\"10: 120.5; 20: 0\",\"to\":\"10: 120.5; 25: 0\"}");
  }

  /** Whoever comes second gets a conflict, however close the second comes. */
  @Test
  void ofManyEditsOfOneVersionOneIsStored() throws Exception {
    Sample sample = Sample.of("adapters", service);
    String one = sample.api() + "/" + sample.store(service);
    ExecutorService threads = Executors.newFixedThreadPool(8);
    try {
      Callable<Integer> edit = () -> api.put(one, sample.json(1)).statusCode();
      List<Integer> answers = new ArrayList<>();
      for (Future<Integer> answer : threads.invokeAll(Collections.nCopies(8, edit))) {
        answers.add(answer.get());
      }
      assertThat(answers).containsOnly(200, 409).containsOnlyOnce(200);
    } finally {
      threads.shutdownNow();
    }
    assertThat(ApiClient.json(api.get(one)).get("version").asInt()).isEqualTo(2);
  }

  @Test
  void isDescribed() {
    String description = api.get("/api/v1/openapi").body();
    assertThat(description).contains(Sample.paths());
    assertThat(description).contains("velocityFactorTolerance", "coefficients", "adapterIds");
  }
}
