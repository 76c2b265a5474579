package org.equiphase.adjustment;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.JsonNode;

/** An invented shop for tests, set up over the API as its planner would. */
public final class SmallShop {

  public static final double VELOCITY_FACTOR = 0.695;
  public static final double FREQUENCY_HZ = 2.8e9;

  private static final double C = 299_792_458;
  private static final AtomicInteger NEXT = new AtomicInteger(1);

  public final ApiClient planner;
  public final ApiClient technician;
  public final ApiClient qa;
  public final long benchId;
  private final RunningService service;
  private final long cableTypeId;
  private final String prefix;

  /** How far the shop's cuts land from their mark, for the orders to come. */
  double cutUncertaintyMm = 0.05;

  /** Largest loss spread of the orders to come; null for none. */
  @Nullable Double lossSpreadDb;

  /** Assemblies in the pool of the orders to come. */
  public int pool;

  public SmallShop(RunningService service) {
    this(service, true);
  }

  private SmallShop(RunningService service, boolean checked) {
    this.service = service;
    planner = service.api(Role.PLANNER);
    technician = service.api(Role.TECHNICIAN);
    qa = service.api(Role.QA);
    prefix = "T" + NEXT.getAndIncrement();
    cableTypeId =
        create(
            "cable-types",
            """
            {"name": "%s cable (invented)", "velocityFactor": 0.695, "velocityFactorTolerance": 0.002,
             "impedanceOhm": 50, "skinLossDbPerM": 0.4, "dielectricLossDbPerM": 0.02,
             "temperatureCurve": [], "note": ""}
            """);
    long instrumentId =
        create(
            "instruments",
            """
            {"name": "%s analyzer (invented)", "serialNumber": "1", "phaseStandardUncertaintyDeg": 0.2,
             "calibrationDue": "2030-01-01", "note": ""}
            """);
    benchId =
        create(
            "benches",
            """
            {"name": "%s bench", "instrumentId": INSTRUMENT, "endStandardId": null, "adapterIds": [],
             "driftLimitDeg": 1, "referenceIntervalMin": 240, "calibrationDue": "2030-01-01",
             "note": ""}
            """
                .replace("INSTRUMENT", "" + instrumentId));
    if (checked) {
      checkReference(30, null);
    }
  }

  private SmallShop(SmallShop shop, RunningService service) {
    this.service = service;
    planner = service.api(Role.PLANNER);
    technician = service.api(Role.TECHNICIAN);
    qa = service.api(Role.QA);
    prefix = shop.prefix;
    cableTypeId = shop.cableTypeId;
    benchId = shop.benchId;
  }

  /** The same shop, reached through another instance on its database. */
  public SmallShop through(RunningService instance) {
    return new SmallShop(this, instance);
  }

  /** Another such shop, whose bench has not measured its reference cable yet. */
  public SmallShop another() {
    return new SmallShop(service, false);
  }

  /** Logs a check of the bench's reference cable; null for now. */
  public void checkReference(double phaseDeg, @Nullable Instant takenAt) {
    HttpResponse<String> answer =
        technician.post(
            "/api/v1/reference-checks",
            """
            {"benchId": %d, "cableSerial": "%s-REF", "frequencyHz": 2.8e9, "phaseDeg": %s,
             "temperatureC": 23, "takenAt": %s}
            """
                .formatted(
                    benchId, prefix, phaseDeg, takenAt == null ? "null" : "\"" + takenAt + "\""));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
  }

  public String serial(int i) {
    return prefix + "-" + i;
  }

  public String poolSerial(int i) {
    return prefix + "-P" + i;
  }

  /** An order with one set; {@code extra} holds further members of its specification. */
  public long order(int members, String basis, String turns, String master, String extra) {
    return order(members, basis, turns, master, extra, 0.1);
  }

  public long order(
      int members, String basis, String turns, String master, String extra, double cutStepMm) {
    String positions =
        IntStream.rangeClosed(1, members)
            .mapToObj(
                i ->
                    """
                    {"label": "%d", "serial": "%s", "offsetPhaseDeg": 0, "offsetDelayPs": 0}
                    """
                        .formatted(i, serial(i)))
            .collect(Collectors.joining(","));
    HttpResponse<String> answer =
        planner.post(
            "/api/v1/workorders",
            """
            {"number": "%s", "title": "invented", "specification":
              {"cableTypeId": %d, "connector": "SMA", "connectorTorqueNm": 0.9,
               "method": "TRANSMISSION", "basis": "%s", "turns": "%s", "nominalLengthMm": 1000,
               "nominalLengthToleranceMm": 20, "trimAllowanceMm": 20, "cutResolutionMm": %s,
               "cutStandardUncertaintyMm": %s,
               "referenceTemperatureC": 23, %s
               "frequencies": [{"frequencyHz": 2.8e9, "toleranceDeg": 3,
                                "insertionLossLimitDb": 2, "insertionLossSpreadDb": %s}]},
             "sets": [{"name": "A", "masterSerial": %s, "positions": [%s]}],
             "poolSerials": [%s]}
            """
                .formatted(
                    prefix,
                    cableTypeId,
                    basis,
                    turns,
                    cutStepMm,
                    cutUncertaintyMm,
                    extra,
                    lossSpreadDb,
                    master.isEmpty() ? "null" : "\"" + master + "\"",
                    positions,
                    IntStream.rangeClosed(1, pool)
                        .mapToObj(i -> "\"" + poolSerial(i) + "\"")
                        .collect(Collectors.joining(","))));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("sets").get(0).get("id").asLong();
  }

  public String orderNumber() {
    return prefix;
  }

  /** Insertion phase of a cable at the shop's frequency, wrapped: −360·f·L/(v·c). */
  public static double phaseDeg(double lengthMm) {
    double total = -360 * FREQUENCY_HZ * lengthMm / 1e3 / (VELOCITY_FACTOR * C);
    return total - 360 * Math.round(total / 360);
  }

  public static double degPerMm() {
    return 360 * FREQUENCY_HZ / 1e3 / (VELOCITY_FACTOR * C);
  }

  public HttpResponse<String> tryMeasure(String serial, double lengthMm, double lossDb) {
    return tryMeasure(serial, lengthMm, lossDb, null);
  }

  public HttpResponse<String> tryMeasure(
      String serial, double lengthMm, double lossDb, @Nullable Instant takenAt) {
    return technician.post("/api/v1/readings", reading(serial, lengthMm, lossDb, takenAt));
  }

  /** A reading as it is sent. */
  public String reading(String serial, double lengthMm) {
    return reading(serial, lengthMm, 1.2, null);
  }

  private String reading(String serial, double lengthMm, double lossDb, @Nullable Instant takenAt) {
    return String.format(
        Locale.ROOT,
        """
        {"serial": "%s", "benchId": %d, "temperatureC": 23, "takenAt": %s, "spots":
          [{"frequencyHz": 2.8e9, "phaseDeg": %.9f, "insertionLossDb": %.3f}]}
        """,
        serial,
        benchId,
        takenAt == null ? "null" : "\"" + takenAt + "\"",
        phaseDeg(lengthMm),
        lossDb);
  }

  public long measure(String serial, double lengthMm) {
    HttpResponse<String> answer = tryMeasure(serial, lengthMm, 1.2);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }

  public JsonNode plan(long setId) {
    return ApiClient.json(technician.get("/api/v1/sets/" + setId));
  }

  public JsonNode member(long setId, String serial) {
    for (JsonNode member : plan(setId).get("members")) {
      if (member.get("assembly").get("serial").asString().equals(serial)) {
        return member;
      }
    }
    throw new AssertionError("no member " + serial);
  }

  public String state(long setId, String serial) {
    return member(setId, serial).get("assembly").get("state").asString();
  }

  public HttpResponse<String> signOff(JsonNode instruction, double doneTrimMm) {
    return technician.post(
        "/api/v1/instructions/" + instruction.get("id").asLong() + "/sign-off",
        String.format(
            Locale.ROOT,
            """
            {"version": %d, "doneTrimMm": %.4f}
            """,
            instruction.get("version").asInt(),
            doneTrimMm));
  }

  List<String> serials(int members) {
    List<String> serials = new ArrayList<>();
    for (int i = 1; i <= members; i++) {
      serials.add(serial(i));
    }
    return serials;
  }

  private long create(String kind, String json) {
    HttpResponse<String> answer =
        planner.post("/api/v1/catalog/" + kind, json.replace("%s", prefix));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer).get("id").asLong();
  }
}
