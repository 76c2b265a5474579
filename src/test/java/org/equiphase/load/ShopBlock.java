package org.equiphase.load;

import java.net.http.HttpResponse;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import tools.jackson.databind.JsonNode;

/**
 * A block of work in an invented shop, done over the API as people do it: five orders of four sets
 * of sixteen assemblies, each set with fifty readings, cuts signed off in between; five sets
 * released, one member conceded, and one set with findings of every kind that a typed reading can
 * bring.
 */
final class ShopBlock {

  static final int SETS = 20;
  static final int READINGS_PER_SET = 50;

  /** Kinds of finding on the queue, all on members of one set. */
  static final int KINDS = 8;

  static final int RELEASED = 5;
  static final int MEMBERS = 16;

  private static final int ORDERS = 5;
  private static final int SETS_PER_ORDER = SETS / ORDERS;
  private static final int TROUBLED = 7;
  private static final int CONCEDED = 10;
  private static final double NOMINAL_MM = 1000;
  private static final double DEG_PER_MM = 360 * 2.8e9 / 1e3 / (0.695 * 299_792_458);

  private final RunningService service;
  private final ApiClient planner;
  private final ApiClient qa;
  private final Random random = new Random(7);
  private final List<Long> cables = new ArrayList<>();
  private final List<Long> benches = new ArrayList<>();
  private final Map<String, Double> lengthMm = new HashMap<>();

  private long overdueBench;

  ShopBlock(RunningService service) {
    this.service = service;
    planner = service.api(Role.PLANNER);
    qa = service.api(Role.QA);
  }

  static String serial(int set, int member) {
    return "%s-%02d-%02d".formatted(Copy.NAME, set, member);
  }

  static String lot(int order) {
    return Copy.NAME + "-L" + order;
  }

  /** Cable types, instruments and benches. */
  void equip() {
    for (int i = 0; i < 3; i++) {
      cables.add(
          create(
              "cable-types",
              """
              {"name": "Load cable %d (invented)", "velocityFactor": 0.695,
               "velocityFactorTolerance": 0.002, "impedanceOhm": 50, "skinLossDbPerM": 0.4,
               "dielectricLossDbPerM": 0.02, "temperatureCurve": [], "note": ""}
              """
                  .formatted(i)));
      benches.add(bench("" + i, "2030-01-01"));
    }
    overdueBench = bench("overdue", "2020-01-01");
  }

  private long bench(String name, String due) {
    long instrument =
        create(
            "instruments",
            """
            {"name": "Load analyzer %s (invented)", "serialNumber": "1",
             "phaseStandardUncertaintyDeg": 0.2, "calibrationDue": "2030-01-01", "note": ""}
            """
                .formatted(name));
    return create(
        "benches",
        """
        {"name": "Load bench %s", "instrumentId": %d, "endStandardId": null, "adapterIds": [],
         "driftLimitDeg": 1, "referenceIntervalMin": 480, "calibrationDue": "%s", "note": ""}
        """
            .formatted(name, instrument, due));
  }

  void work() {
    List<Long> all = new ArrayList<>(benches);
    all.add(overdueBench);
    for (long bench : all) {
      must(
          service
              .api(Role.TECHNICIAN)
              .post(
                  "/api/v1/reference-checks",
                  """
              {"benchId": %d, "cableSerial": "REF", "frequencyHz": 2.8e9, "phaseDeg": 30,
               "temperatureC": 23}
              """
                      .formatted(bench)));
    }
    List<Long> sets = new ArrayList<>();
    for (int order = 0; order < ORDERS; order++) {
      sets.addAll(order(order));
    }
    for (int set = 0; set < SETS; set++) {
      work(set, sets.get(set));
    }
    decide();
    for (int set = 0; set < RELEASED; set++) {
      must(
          qa.post(
              "/api/v1/release/sets/" + sets.get(set),
              "{\"password\": \"%s\", \"remark\": \"packed\"}".formatted(RunningService.PASSWORD)));
    }
  }

  private List<Long> order(int order) {
    String drafts =
        IntStream.range(order * SETS_PER_ORDER, (order + 1) * SETS_PER_ORDER)
            .mapToObj(
                set ->
                    "{\"name\": \"S%d\", \"masterSerial\": null, \"positions\": [%s]}"
                        .formatted(set, positions(set)))
            .collect(Collectors.joining(","));
    String basis = isFree(order) ? "SET" : "NOMINAL";
    JsonNode created =
        ApiClient.json(
            must(
                planner.post(
                    "/api/v1/workorders",
                    """
                    {"number": "%s-%d", "title": "invented", "dueOn": "%s", "cableLot": "%s",
                     "specification":
                      {"cableTypeId": %d, "connector": "SMA", "connectorTorqueNm": 0.9,
                       "method": "TRANSMISSION", "basis": "%s", "turns": "ABSOLUTE",
                       "nominalLengthMm": 1000, "nominalLengthToleranceMm": 20,
                       "trimAllowanceMm": 20, "cutResolutionMm": 0.1,
                       "cutStandardUncertaintyMm": 0.05, "vswrLimit": 1.3,
                       "referenceTemperatureC": 23, "decisionRule": "SIMPLE",
                       "frequencies": [{"frequencyHz": 2.8e9, "toleranceDeg": 3,
                                        "insertionLossLimitDb": 2}]},
                     "sets": [%s]}
                    """
                        .formatted(
                            Copy.NAME,
                            order,
                            LocalDate.now().plusDays(3 + 7L * order),
                            lot(order),
                            cables.get(order % cables.size()),
                            basis,
                            drafts))));
    return created.get("sets").valueStream().map(set -> set.get("id").asLong()).toList();
  }

  /** Whether an order leaves the target to its sets, whose members then agree as they come. */
  private static boolean isFree(int order) {
    return order >= 3;
  }

  private static String positions(int set) {
    return IntStream.range(0, MEMBERS)
        .mapToObj(
            i ->
                "{\"label\": \"%d\", \"serial\": \"%s\", \"offsetPhaseDeg\": 0, \"offsetDelayPs\": 0}"
                    .formatted(i, serial(set, i)))
        .collect(Collectors.joining(","));
  }

  /** Everyone is read three times and two once more; what is asked after a reading is done. */
  private void work(int set, long setId) {
    for (int member = 0; member < MEMBERS; member++) {
      lengthMm.put(serial(set, member), firstLengthMm(set, member));
    }
    for (int pass = 0; pass < 3; pass++) {
      for (int member = 0; member < MEMBERS; member++) {
        measure(set, member);
      }
      signOff(set, setId);
    }
    for (int i = 3 * MEMBERS; i < READINGS_PER_SET; i++) {
      measure(set, i % MEMBERS + 8);
    }
  }

  private double firstLengthMm(int set, int member) {
    if (set == TROUBLED) {
      // Far too short; too short by less; in, but near the limit of 3° = 0.62 mm.
      Map<Integer, Double> lengths = Map.of(0, 995.0, 4, 998.0, 5, 999.42);
      return lengths.getOrDefault(member, NOMINAL_MM);
    }
    if (set == CONCEDED && member == 0) {
      return 996;
    }
    if (isFree(set / SETS_PER_ORDER)) {
      return NOMINAL_MM + 0.2 * random.nextDouble();
    }
    return NOMINAL_MM + (member % 4 == 0 ? 0 : 1 + 2 * random.nextDouble());
  }

  private void measure(int set, int member) {
    boolean troubled = set == TROUBLED;
    String serial = serial(set, member);
    double totalDeg = -DEG_PER_MM * lengthMm.get(serial) + 0.1 * random.nextGaussian();
    must(
        worker(set)
            .post(
                "/api/v1/readings",
                String.format(
                    Locale.ROOT,
                    """
                    {"serial": "%s", "benchId": %d, "temperatureC": 23, "spots":
                      [{"frequencyHz": 2.8e9, "phaseDeg": %.6f, "insertionLossDb": %.3f,
                        "vswr": %.3f}]}
                    """,
                    serial,
                    troubled && member == 7 ? overdueBench : benches.get(set % benches.size()),
                    totalDeg - 360 * Math.round(totalDeg / 360),
                    troubled && member == 2 ? 2.5 : 1.2 + 0.02 * random.nextGaussian(),
                    troubled && member == 1 ? 1.6 : 1.1 + 0.02 * random.nextDouble())));
  }

  private ApiClient worker(int set) {
    return service.api(set % 2 == 0 ? Role.TECHNICIAN : Role.QA);
  }

  private void signOff(int set, long setId) {
    Set<Long> done = new HashSet<>();
    for (int round = 0; round < MEMBERS; round++) {
      // Each sign-off plans the set again, which may change what the others are asked.
      JsonNode next = null;
      for (JsonNode member :
          ApiClient.json(must(planner.get("/api/v1/sets/" + setId))).get("members")) {
        JsonNode current = member.get("current");
        if (current != null
            && !current.isNull()
            && current.get("action").asString().equals("TRIM")
            && current.get("state").asString().equals("ISSUED")
            && done.add(current.get("id").asLong())) {
          next = member;
          break;
        }
      }
      if (next == null) {
        return;
      }
      JsonNode cut = next.get("current");
      double trimMm = cut.get("trimMm").asDouble();
      must(
          worker(set)
              .post(
                  "/api/v1/instructions/" + cut.get("id").asLong() + "/sign-off",
                  String.format(
                      Locale.ROOT,
                      "{\"version\": %d, \"doneTrimMm\": %.4f}",
                      cut.get("version").asInt(),
                      trimMm)));
      String serial = next.get("assembly").get("serial").asString();
      lengthMm.merge(serial, -trimMm + 0.03 * random.nextGaussian(), Double::sum);
    }
  }

  private void decide() {
    must(
        qa.post(
            "/api/v1/review/assemblies/" + serial(TROUBLED, 3) + "/hold",
            "{\"reason\": \"to be looked at\"}"));
    decided(TROUBLED, 4, "CONCESSION");
    agree(decided(TROUBLED, 6, "SCRAP"));
    agree(decided(CONCEDED, 0, "CONCESSION"));
  }

  private long decided(int set, int member, String kind) {
    String serial = serial(set, member);
    JsonNode latest = ApiClient.json(must(qa.get("/api/v1/readings?serial=" + serial))).get(0);
    return ApiClient.json(
            must(
                qa.post(
                    "/api/v1/review/dispositions",
                    """
                    {"password": "%s", "disposition": {"kind": "%s", "serial": "%s",
                     "readingId": %d, "reasonCode": "OTHER", "text": "as found"}}
                    """
                        .formatted(
                            RunningService.PASSWORD, kind, serial, latest.get("id").asLong()))))
        .get("id")
        .asLong();
  }

  private void agree(long disposition) {
    must(
        service
            .basic("qa2", RunningService.PASSWORD)
            .post(
                "/api/v1/review/dispositions/" + disposition + "/signatures",
                "{\"agrees\": true, \"text\": \"looked at it too\", \"password\": \"%s\"}"
                    .formatted(RunningService.PASSWORD)));
  }

  private long create(String what, String json) {
    return ApiClient.json(must(planner.post("/api/v1/catalog/" + what, json))).get("id").asLong();
  }

  static HttpResponse<String> must(HttpResponse<String> answer) {
    if (answer.statusCode() >= 400) {
      throw new IllegalStateException(
          answer.request().uri() + ": " + answer.statusCode() + " " + answer.body());
    }
    return answer;
  }
}
