package org.equiphase.traveler;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.DoubleStream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * An invented order to print, set up over the API: one set whose four members are in tolerance, too
 * long, too short and not read, and one assembly in the pool. With a stretcher, the long one is to
 * be set and nothing may be cut.
 */
public final class TravelerShop {

  static final String TITLE = "=HYPERLINK(\"x\") & <b>panel</b> \u0001 Ω";
  public static final double[] FREQUENCIES_HZ = {2.76e9, 2.84e9};
  static final List<String> LABELS = List.of("1", "=2+2", "-3", "@4");

  private static final double C = 299_792_458;
  private static final double VELOCITY_FACTOR = 0.695;

  public final ApiClient technician;
  public final String order;
  public final long setId;
  private final ApiClient planner;
  private final String prefix;
  private final long benchId;
  private final double stretcherElectricalMm;

  private TravelerShop(RunningService service, boolean stretcher) {
    this(service, stretcher, "TR" + UUID.randomUUID().toString().substring(0, 6));
  }

  private TravelerShop(RunningService service, boolean stretcher, String prefix) {
    this.prefix = prefix;
    planner = service.api(Role.PLANNER);
    technician = service.api(Role.TECHNICIAN);
    order = prefix + " & Co";
    stretcherElectricalMm = stretcher ? 2 * 20.0 : 0;
    long cableTypeId =
        entry(
            "cable-types",
            """
            {"name": "%s semi-rigid (invented)", "velocityFactor": 0.695,
             "velocityFactorTolerance": 0.002, "impedanceOhm": 50, "skinLossDbPerM": 0.4,
             "dielectricLossDbPerM": 0.02, "temperatureCurve": [], "note": ""}
            """);
    long instrumentId =
        entry(
            "instruments",
            """
            {"name": "%s analyzer (invented)", "serialNumber": "1",
             "phaseStandardUncertaintyDeg": 0.2, "calibrationDue": "2030-01-01", "note": ""}
            """);
    benchId =
        entry(
            "benches",
            """
            {"name": "%s bench", "instrumentId": INSTRUMENT, "endStandardId": null,
             "adapterIds": [], "driftLimitDeg": 1, "referenceIntervalMin": 240,
             "calibrationDue": "2030-01-01", "note": ""}
            """
                .replace("INSTRUMENT", "" + instrumentId));
    HttpResponse<String> check =
        technician.post(
            "/api/v1/reference-checks",
            """
            {"benchId": %d, "cableSerial": "%s-REF", "frequencyHz": 2.8e9, "phaseDeg": 30,
             "temperatureC": 23}
            """
                .formatted(benchId, prefix));
    assertThat(check.statusCode()).as(check.body()).isEqualTo(201);
    String fitted = "\"trimAllowanceMm\": 20,";
    if (stretcher) {
      long stretcherId =
          entry(
              "line-stretchers",
              """
              {"name": "%s folded (invented)", "geometry": "FOLDED", "airIndex": 1, "minMm": 0,
               "maxMm": 60, "lockMinMm": 1, "lockMaxMm": 59, "resolutionMm": 0.5,
               "calibration": [], "calibrationDue": "2030-01-01", "note": ""}
              """);
      fitted =
          "\"trimAllowanceMm\": 0, \"lineStretcherId\": "
              + stretcherId
              + ", \"stretcherStartMm\": 20,";
    }
    setId = order(cableTypeId, fitted);
    measure(serial(1), 1000);
    measure(serial(2), 1003.2);
    measure(serial(3), 990);
  }

  public static TravelerShop trimming(RunningService service) {
    return new TravelerShop(service, false);
  }

  /** The same with serials of at most seven characters. */
  static TravelerShop withShortSerials(RunningService service) {
    return new TravelerShop(service, false, "T" + UUID.randomUUID().toString().substring(0, 4));
  }

  public static TravelerShop stretching(RunningService service) {
    return new TravelerShop(service, true);
  }

  public String serial(int i) {
    return prefix + "-" + i;
  }

  List<String> members() {
    return List.of(serial(1), serial(2), serial(3), serial(4));
  }

  public String inPool() {
    return prefix + "-P";
  }

  public String benchName() {
    return prefix + " bench";
  }

  /** The order's number as a path carries it. */
  public String orderPath() {
    return order.replace(" ", "%20").replace("&", "%26");
  }

  public JsonNode member(int i) {
    JsonNode plan = ApiClient.json(technician.get("/api/v1/sets/" + setId));
    return plan.get("members").get(i - 1);
  }

  /** Records a reading of an ideal cable of this length, its stretcher where it was fitted. */
  public void measure(String serial, double lengthMm) {
    double delayS = (lengthMm / VELOCITY_FACTOR + stretcherElectricalMm) / 1e3 / C;
    String spots =
        DoubleStream.of(FREQUENCIES_HZ)
            .mapToObj(
                f ->
                    String.format(
                        Locale.ROOT,
                        "{\"frequencyHz\": %.0f, \"phaseDeg\": %.9f}",
                        f,
                        Math.IEEEremainder(-360 * f * delayS, 360)))
            .collect(Collectors.joining(","));
    post(
        technician,
        "/api/v1/readings",
        "{\"serial\": \"%s\", \"benchId\": %d, \"temperatureC\": 23, \"spots\": [%s]}"
            .formatted(serial, benchId, spots));
  }

  public void signOffCut(JsonNode instruction) {
    post(
        technician,
        "/api/v1/instructions/" + instruction.get("id").asLong() + "/sign-off",
        "{\"version\": %d, \"doneTrimMm\": %s}"
            .formatted(instruction.get("version").asInt(), instruction.get("trimMm")));
  }

  private long order(long cableTypeId, String fitted) {
    StringBuilder positions = new StringBuilder();
    for (int i = 1; i <= LABELS.size(); i++) {
      positions
          .append(i == 1 ? "" : ",")
          .append(
              "{\"label\": \"%s\", \"serial\": \"%s\", \"offsetPhaseDeg\": 0, \"offsetDelayPs\": 0}"
                  .formatted(LABELS.get(i - 1), serial(i)));
    }
    JsonNode created =
        post(
            planner,
            "/api/v1/workorders",
            """
            {"number": "%s", "title": %s, "dueOn": "2030-06-01", "specification":
              {"cableTypeId": %d, "connector": "SMA", "connectorTorqueNm": 0.9,
               "method": "TRANSMISSION", "basis": "NOMINAL", "turns": "ABSOLUTE",
               "nominalLengthMm": 1000, "nominalLengthToleranceMm": 10, %s
               "cutResolutionMm": 0.1, "cutStandardUncertaintyMm": 0.05, "referenceTemperatureC": 23, "decisionRule": "GUARDED",
               "frequencies": [{"frequencyHz": 2.76e9, "toleranceDeg": 3},
                               {"frequencyHz": 2.84e9, "toleranceDeg": 3}]},
             "sets": [{"name": "A", "positions": [%s]}], "poolSerials": ["%s"]}
            """
                .formatted(
                    order,
                    JsonMapper.builder().build().writeValueAsString(TITLE),
                    cableTypeId,
                    fitted,
                    positions,
                    inPool()));
    return created.get("sets").get(0).get("id").asLong();
  }

  private long entry(String kind, String json) {
    return post(planner, "/api/v1/catalog/" + kind, json.replace("%s", prefix)).get("id").asLong();
  }

  private static JsonNode post(ApiClient client, String path, String json) {
    HttpResponse<String> answer = client.post(path, json);
    assertThat(answer.statusCode()).as(answer.body()).isIn(200, 201);
    return ApiClient.json(answer);
  }
}
