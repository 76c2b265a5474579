package org.equiphase.load;

import java.net.http.HttpResponse;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;

/**
 * An invented shop for loads: one cable type, benches with an instrument each, orders of nominal
 * sets.
 *
 * @param benchIds of its benches
 */
public record LoadShop(long cableTypeId, List<Long> benchIds) {

  public static final double HERTZ = 2.8e9;

  /** Makes the catalog. */
  public static LoadShop equip(ApiClient planner, int benches) {
    long cableTypeId =
        create(
            planner,
            "cable-types",
            """
            {"name": "Load cable (invented)", "velocityFactor": 0.695,
             "velocityFactorTolerance": 0.002, "impedanceOhm": 50, "skinLossDbPerM": 0.4,
             "dielectricLossDbPerM": 0.02, "temperatureCurve": [], "note": ""}
            """);
    List<Long> benchIds = IntStream.range(0, benches).mapToObj(i -> bench(planner, i)).toList();
    return new LoadShop(cableTypeId, benchIds);
  }

  private static long bench(ApiClient planner, int number) {
    long instrument =
        create(
            planner,
            "instruments",
            """
            {"name": "Load analyzer %d (invented)", "serialNumber": "1",
             "phaseStandardUncertaintyDeg": 0.2, "calibrationDue": "2030-01-01", "note": ""}
            """
                .formatted(number));
    return create(
        planner,
        "benches",
        """
        {"name": "Load bench %d", "instrumentId": %d, "endStandardId": null, "adapterIds": [],
         "driftLimitDeg": 1, "referenceIntervalMin": 480, "calibrationDue": "2030-01-01",
         "note": ""}
        """
            .formatted(number, instrument));
  }

  /** An order for cables of 1 m; its serials are {@link #serial}. */
  public void order(ApiClient planner, String number, int sets, int members) {
    String drafts =
        IntStream.range(0, sets)
            .mapToObj(
                set ->
                    "{\"name\": \"%d\", \"masterSerial\": null, \"positions\": [%s]}"
                        .formatted(set, positions(number, set, members)))
            .collect(Collectors.joining(","));
    must(
        planner.post(
            "/api/v1/workorders",
            """
            {"number": "%s", "title": "invented", "specification":
              {"cableTypeId": %d, "connector": "SMA", "connectorTorqueNm": 0.9,
               "method": "TRANSMISSION", "basis": "NOMINAL", "turns": "ABSOLUTE",
               "nominalLengthMm": 1000, "nominalLengthToleranceMm": 20, "trimAllowanceMm": 20,
               "cutResolutionMm": 0.1, "cutStandardUncertaintyMm": 0.05,
               "referenceTemperatureC": 23, "decisionRule": "SIMPLE",
               "frequencies": [{"frequencyHz": %.0f, "toleranceDeg": 3}]},
             "sets": [%s]}
            """
                .formatted(number, cableTypeId, HERTZ, drafts)));
  }

  private static String positions(String number, int set, int members) {
    return IntStream.range(0, members)
        .mapToObj(
            member ->
                "{\"label\": \"%d\", \"serial\": \"%s\", \"offsetPhaseDeg\": 0, \"offsetDelayPs\": 0}"
                    .formatted(member, serial(number, set, member)))
        .collect(Collectors.joining(","));
  }

  public static String serial(String number, int set, int member) {
    return "%s-%d-%d".formatted(number, set, member);
  }

  private static long create(ApiClient planner, String what, String json) {
    return ApiClient.json(must(planner.post("/api/v1/catalog/" + what, json))).get("id").asLong();
  }

  /** The answer, unless it is an error. */
  public static HttpResponse<String> must(HttpResponse<String> answer) {
    if (answer.statusCode() >= 400) {
      throw new IllegalStateException(
          answer.request().uri() + ": " + answer.statusCode() + " " + answer.body());
    }
    return answer;
  }
}
