package org.equiphase.station;

import static org.assertj.core.api.Assertions.assertThat;

import java.net.http.HttpResponse;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import tools.jackson.databind.JsonNode;

/** An invented shop with a bench and an order of cables in the pool, set up over the API. */
final class StationShop {

  static final double FREQUENCY_HZ = 2.8e9;
  static final int POINTS = 11;

  private static final double VELOCITY_FACTOR = 0.695;
  private static final double C = 299_792_458;
  private static final AtomicInteger NEXT = new AtomicInteger(1);

  final String bench;
  final long benchId;
  private final String prefix = "W" + NEXT.getAndIncrement();
  private final ApiClient planner;

  StationShop(ApiClient planner, int assemblies) {
    this.planner = planner;
    this.bench = prefix + " bench, S-band";
    long cableTypeId =
        create(
            "catalog/cable-types",
            """
            {"name": "%s cable (invented)", "velocityFactor": 0.695, "velocityFactorTolerance": 0.002,
             "impedanceOhm": 50, "skinLossDbPerM": 0.4, "dielectricLossDbPerM": 0.02,
             "temperatureCurve": [], "note": ""}
            """
                .formatted(prefix));
    long instrumentId =
        create(
            "catalog/instruments",
            """
            {"name": "%s analyzer (invented)", "serialNumber": "1", "phaseStandardUncertaintyDeg": 0.2,
             "calibrationDue": "2030-01-01", "note": ""}
            """
                .formatted(prefix));
    benchId =
        create(
            "catalog/benches",
            """
            {"name": "%s", "instrumentId": %d, "endStandardId": null, "adapterIds": [],
             "driftLimitDeg": 1, "referenceIntervalMin": 240, "calibrationDue": "2030-01-01",
             "note": ""}
            """
                .formatted(bench, instrumentId));
    List<String> serials =
        IntStream.rangeClosed(1, assemblies).mapToObj(i -> "\"" + serial(i) + "\"").toList();
    post(
        "workorders",
        """
        {"number": "%s", "title": "invented", "specification":
          {"cableTypeId": %d, "connector": "SMA", "connectorTorqueNm": 0.9,
           "method": "TRANSMISSION", "basis": "SET", "turns": "ABSOLUTE", "nominalLengthMm": 1000,
           "nominalLengthToleranceMm": 20, "trimAllowanceMm": 20, "cutResolutionMm": 0.1,
           "cutStandardUncertaintyMm": 0.05, "referenceTemperatureC": 23, "decisionRule": "SIMPLE",
           "frequencies": [{"frequencyHz": 2.8e9, "toleranceDeg": 3}]},
         "sets": [], "poolSerials": [%s]}
        """
            .formatted(prefix, cableTypeId, String.join(",", serials)));
  }

  String serial(int i) {
    return "%s-%04d".formatted(prefix, i);
  }

  /** A matched line of so many millimetres, 2.7 to 2.9 GHz: φ = −360·f·L/(v·c). */
  static String touchstone(double lengthMm) {
    StringBuilder text = new StringBuilder("# GHZ S DB R 50\n");
    for (int i = 0; i < POINTS; i++) {
      double ghz = 2.7 + 0.2 * i / (POINTS - 1);
      double phaseDeg = Math.IEEEremainder(totalPhaseDeg(lengthMm, ghz * 1e9), 360);
      text.append(
          String.format(
              Locale.ROOT, "%.4f -40 0 -1.2 %.4f -1.2 %.4f -40 0%n", ghz, phaseDeg, phaseDeg));
    }
    return text.toString();
  }

  /** The same at the order's frequency alone. */
  static String csv(double lengthMm) {
    return String.format(
        Locale.ROOT,
        "frequency_ghz,phase_deg,insertion_loss_db%n2.8,%.4f,1.2%n",
        Math.IEEEremainder(totalPhaseDeg(lengthMm, FREQUENCY_HZ), 360));
  }

  static double totalPhaseDeg(double lengthMm, double frequencyHz) {
    return -360 * frequencyHz * lengthMm / 1e3 / (VELOCITY_FACTOR * C);
  }

  private long create(String path, String json) {
    return post(path, json).get("id").asLong();
  }

  private JsonNode post(String path, String json) {
    HttpResponse<String> answer = planner.post("/api/v1/" + path, json);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(201);
    return ApiClient.json(answer);
  }
}
