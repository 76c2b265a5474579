package org.equiphase.catalog;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.ApiTokens;
import org.equiphase.account.Role;
import tools.jackson.databind.json.JsonMapper;

/**
 * A valid entry of one kind, as JSON and as a form. All values are invented.
 *
 * @param auditType the kind's name in the audit log
 * @param field a number of the kind, in both forms
 * @param badNumber a number out of its range
 */
record Sample(
    String path,
    String auditType,
    Map<String, Object> json,
    Map<String, Object> form,
    String field,
    String badNumber) {

  static final String API = "/api/v1/catalog/";
  private static final AtomicInteger NEXT = new AtomicInteger();
  private static final Map<RunningService, ApiClient> CLIENTS = new HashMap<>();
  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** A name that no other test uses: the tests share one database. */
  static String newName() {
    return "Sample " + NEXT.incrementAndGet();
  }

  static List<String> paths() {
    return List.of(
        "cable-types", "end-standards", "adapters", "line-stretchers", "instruments", "benches");
  }

  static Sample of(String path, RunningService service) {
    return switch (path) {
      case "cable-types" -> cableType();
      case "end-standards" -> endStandard();
      case "adapters" -> adapter();
      case "line-stretchers" -> lineStretcher();
      case "instruments" -> instrument();
      case "benches" -> bench(service);
      default -> throw new IllegalArgumentException(path);
    };
  }

  /** The entry as JSON with one field set to another value; null removes the field. */
  String jsonWith(String changed, Object value) {
    Map<String, Object> all = new LinkedHashMap<>(json);
    all.put(changed, value);
    return JSON.writeValueAsString(all);
  }

  /** Each field of the JSON by itself, such as "impedanceOhm":50. */
  List<String> jsonFields() {
    return json.entrySet().stream()
        .map(field -> JSON.writeValueAsString(Map.of(field.getKey(), field.getValue())))
        .map(object -> object.substring(1, object.length() - 1))
        .toList();
  }

  String json(int version) {
    return jsonWith("version", version);
  }

  Map<String, Object> formWith(String changed, Object value) {
    Map<String, Object> all = new LinkedHashMap<>(form);
    all.put(changed, value);
    return all;
  }

  String name() {
    return String.valueOf(json.get("name"));
  }

  String api() {
    return API + path;
  }

  String page() {
    return "/catalog/" + path;
  }

  /** The API as the planner, by token: hashing the password for every call takes too long. */
  static synchronized ApiClient api(RunningService service) {
    return CLIENTS.computeIfAbsent(
        service,
        running ->
            running.api(
                running
                    .bean(ApiTokens.class)
                    .add(RunningService.username(Role.PLANNER), newName(), null)
                    .secret()));
  }

  /** Stores the entry and answers its id. */
  long store(RunningService service) {
    HttpResponse<String> answer = api(service).post(api(), JSON.writeValueAsString(json));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }

  private static Sample cableType() {
    Map<String, Object> json = named();
    json.put("velocityFactor", 0.695);
    json.put("velocityFactorTolerance", 0.005);
    json.put("impedanceOhm", 50);
    json.put("skinLossDbPerM", 0.36);
    json.put("dielectricLossDbPerM", 0.02);
    json.put(
        "temperatureCurve",
        List.of(
            point("temperatureC", 10, "lengthPpm", 120.5),
            point("temperatureC", 20, "lengthPpm", 0)));
    return new Sample(
        "cable-types",
        "cable type",
        json,
        form(json, Map.of("temperatureCurve", "°C\tppm\n10\t120,5\n20\t0")),
        "velocityFactor",
        "1.5");
  }

  private static Sample endStandard() {
    Map<String, Object> json = named();
    json.put("kind", "OPEN");
    json.put("offsetDelayPs", 29.2);
    json.put("offsetLossDb", 0.01);
    json.put("coefficients", List.of(49.4, -310, 23, -0.16));
    Map<String, Object> form =
        form(
            json,
            Map.of(
                "coefficients[0]", "49,4",
                "coefficients[1]", "-310",
                "coefficients[2]", "23",
                "coefficients[3]", "-0.16"));
    form.remove("coefficients");
    return new Sample("end-standards", "end standard", json, form, "offsetDelayPs", "-1");
  }

  private static Sample adapter() {
    Map<String, Object> json = named();
    json.put("delayPs", 61.25);
    json.put("lossDbAt1Ghz", 0.02);
    return new Sample("adapters", "adapter", json, form(json, Map.of()), "lossDbAt1Ghz", "-0.1");
  }

  private static Sample lineStretcher() {
    Map<String, Object> json = named();
    json.put("geometry", "FOLDED");
    json.put("airIndex", 1.00027);
    json.put("minMm", 0);
    json.put("maxMm", 280);
    json.put("lockMinMm", 2);
    json.put("lockMaxMm", 278);
    json.put("resolutionMm", 0.5);
    json.put(
        "calibration",
        List.of(
            point("readingMm", 0, "electricalLengthMm", 301.5),
            point("readingMm", 140, "electricalLengthMm", 581.4),
            point("readingMm", 280, "electricalLengthMm", 861.9)));
    json.put("calibrationDue", "2099-01-31");
    return new Sample(
        "line-stretchers",
        "line stretcher",
        json,
        form(json, Map.of("calibration", "0;301,5\n140;581,4\n280;861,9")),
        "resolutionMm",
        "0");
  }

  private static Sample instrument() {
    Map<String, Object> json = named();
    json.put("serialNumber", "INV-0001");
    json.put("phaseStandardUncertaintyDeg", 0.15);
    json.put("calibrationDue", "2099-01-31");
    return new Sample(
        "instruments",
        "instrument",
        json,
        form(json, Map.of("connection.commands", usualCommands())),
        "phaseStandardUncertaintyDeg",
        "0");
  }

  /** The form posts them back as it showed them. */
  private static String usualCommands() {
    return Arrays.stream(ScpiStep.values())
        .map(step -> (step + " " + step.usual()).strip())
        .collect(Collectors.joining("\n"));
  }

  private static Sample bench(RunningService service) {
    Map<String, Object> json = named();
    json.put("instrumentId", instrument().store(service));
    json.put("endStandardId", endStandard().store(service));
    json.put("adapterIds", List.of(adapter().store(service), adapter().store(service)));
    json.put("driftLimitDeg", 0.5);
    json.put("referenceIntervalMin", 60);
    json.put("calibrationDue", "2099-01-31");
    return new Sample("benches", "bench", json, form(json, Map.of()), "driftLimitDeg", "0");
  }

  private static Map<String, Object> point(String x, Object xValue, String y, Object yValue) {
    Map<String, Object> point = new LinkedHashMap<>();
    point.put(x, xValue);
    point.put(y, yValue);
    return point;
  }

  private static Map<String, Object> named() {
    Map<String, Object> json = new LinkedHashMap<>();
    json.put("name", newName());
    json.put("note", "invented for a test");
    return json;
  }

  /** The JSON's values as a form types them, with decimal commas. */
  private static Map<String, Object> form(Map<String, Object> json, Map<String, String> tables) {
    Map<String, Object> form = new LinkedHashMap<>();
    json.forEach(
        (field, value) ->
            form.put(field, value instanceof Double d ? d.toString().replace('.', ',') : value));
    form.putAll(tables);
    return form;
  }
}
