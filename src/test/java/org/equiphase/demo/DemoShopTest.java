package org.equiphase.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.equiphase.ApiClient.json;

import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVRecord;
import org.equiphase.ApiClient;
import org.equiphase.Multipart;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.audit.AuditEntry;
import org.equiphase.audit.AuditLog;
import org.equiphase.audit.ChainCheck;
import org.equiphase.audit.ChainChecker;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.CalibrationState;
import org.equiphase.catalog.Catalog;
import org.equiphase.catalog.Instrument;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceCheck;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.release.Releases;
import org.equiphase.review.Disposition;
import org.equiphase.review.Dispositions;
import org.equiphase.rf.LineStretcher;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.WorkOrders;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.springframework.boot.DefaultApplicationArguments;
import tools.jackson.databind.JsonNode;

/** The demo shop as it opens, in a service of its own, since the walk changes it. */
class DemoShopTest {

  private static final Path UPLOADS = Path.of("demo-data/uploads");

  private static RunningService service;

  @BeforeAll
  static void open() {
    service = RunningService.start("equiphase.demo-accounts=true", "equiphase.demo-data=true");
  }

  @AfterAll
  static void close() {
    service.close();
  }

  @Test
  void panelAIsHalfDone() {
    SetPlan plan = plan("QCW-1001", "Panel A");

    assertThat(count(plan, AssemblyState.IN_TOLERANCE)).isEqualTo(9);
    assertThat(count(plan, AssemblyState.ADJUSTED)).isEqualTo(2);
    assertThat(count(plan, AssemblyState.INSTRUCTED)).isEqualTo(3);
    assertThat(count(plan, AssemblyState.ON_HOLD)).isEqualTo(2);
    assertThat(plan.proven()).isTrue();
    assertThat(member(plan, "SW-A-007").assembly().stateReason())
        .startsWith("Too short")
        .contains("A cable can't grow");
    assertThat(member(plan, "SW-A-012").assembly().stateReason())
        .startsWith("Insertion loss")
        .contains("at 2.7600 GHz")
        .contains("above the limit of 1.10 dB");
  }

  /** README of the demo data: 60 jumpers lie in the pool, feed 1 of two is released. */
  @Test
  void theBoardCountsWhatTheOrdersHold() {
    JsonNode jumpers = onBoard("QCW-1003");
    assertThat(jumpers.get("parts")).hasSize(1);
    assertThat(jumpers.get("parts").get(0).get("stage").asString()).isEqualTo("MEASURED");
    assertThat(jumpers.get("assemblies").asInt()).isEqualTo(60);
    assertThat(jumpers.get("cuts").asBoolean()).as("their trim allowance is 0").isFalse();
    JsonNode feeds = onBoard("QCW-1004");
    assertThat(feeds.get("assemblies").asInt()).isEqualTo(8);
    assertThat(feeds.get("sets").get("released").asInt()).isEqualTo(1);
    assertThat(feeds.get("findings").get("AWAITS_SECOND_SIGNATURE").asInt()).isEqualTo(1);
  }

  private static JsonNode onBoard(String number) {
    return ApiClient.json(service.api(Role.PLANNER).get("/api/v1/board?search=" + number))
        .get("lines")
        .get(0);
  }

  @Test
  void panelAsCutsAreTheInstructedOnesWithinTheSawsError() {
    List<CSVRecord> cuts = DemoFiles.table("cuts.csv");

    assertThat(cuts).hasSize(8);
    for (CSVRecord cut : cuts) {
      List<Instruction> done =
          service.bean(Adjustments.class).history(assembly(cut.get("serial")).id()).stream()
              .filter(i -> i.state() == Instruction.State.DONE)
              .toList();
      assertThat(done).hasSize(1);
      assertThat(DemoFiles.number(cut, "doneTrimMm")).isCloseTo(done.get(0).trimMm(), within(0.25));
    }
  }

  /** A tenth of a millimetre that the cut missed by turns 0.48°: 360·f·d/(v·c). */
  @Test
  void panelALandsWhereTheDoneCutsMustLeaveIt() {
    SetPlan plan = plan("QCW-1001", "Panel A");

    for (CSVRecord cut : DemoFiles.table("cuts.csv")) {
      MemberPlan member = member(plan, cut.get("serial"));
      List<Reading> readings = service.bean(Readings.class).history(member.assembly().id());
      if (readings.size() == 2) {
        double movedDeg =
            readings.get(0).spots().get(1).phaseDeg() - readings.get(1).spots().get(1).phaseDeg();
        double expectedDeg =
            360 * 2.8e9 * DemoFiles.number(cut, "doneTrimMm") / 1e3 / (0.695 * 299_792_458.0);
        assertThat(movedDeg).isCloseTo(expectedDeg, within(0.6));
      }
    }
  }

  @Test
  void uhfFeedHasSettingsThatTheStretcherCanHold() {
    SetPlan plan = plan("QCW-1002", "Feed 1");
    LineStretcher stretcher = InventedShop.FOLDED.toRf();

    assertThat(count(plan, AssemblyState.INSTRUCTED)).isEqualTo(5);
    assertThat(count(plan, AssemblyState.IN_TOLERANCE)).isEqualTo(3);
    for (MemberPlan member : plan.members()) {
      Instruction instruction = member.current();
      if (instruction != null) {
        assertThat(instruction.action()).isEqualTo(Instruction.Action.STRETCH);
        double settingMm = Objects.requireNonNull(instruction.settingMm());
        assertThat(settingMm).isBetween(stretcher.lockMinMm(), stretcher.lockMaxMm());
        assertThat(Math.IEEEremainder(settingMm, stretcher.resolutionMm()))
            .isCloseTo(0, within(1e-9));
        assertThat(Math.abs(member.spots().get(0).predictedErrorDeg()))
            .isLessThanOrEqualTo(member.spots().get(0).acceptanceDeg());
      }
    }
  }

  /** φ = −360·f·L/(v·c) with the cable's true length and the stretcher's table, by hand. */
  @Test
  void uhfReadingsAreThoseOfTheSimulatedCables() {
    Reading reading = service.bean(Readings.class).latest(assembly("UH-001").id()).orElseThrow();

    // Stretcher at 70 mm: half way from 532.2 to 571.9 mm. Its lot's velocity factor is known to
    // about 0.001 (2°), and skin effect adds 0.14·√0.432·2.4 dB = 0.0254 rad of delay.
    double electricalMm = 2400.5 / 0.831 + 552.05;
    double expectedDeg = -360 * 432e6 * electricalMm / 1e3 / 299_792_458.0 - Math.toDegrees(0.0254);
    assertThat(reading.spots().get(0).phaseDeg()).isCloseTo(expectedDeg, within(3.0));
    assertThat(reading.phaseModuloDeg()).isNull();
  }

  @Test
  void jumpersLieInThePool() {
    List<Assembly> jumpers = assemblies("QCW-1003");

    assertThat(jumpers).hasSize(60);
    assertThat(jumpers)
        .allSatisfy(
            jumper -> {
              assertThat(jumper.state()).isEqualTo(AssemblyState.MEASURED);
              assertThat(jumper.setId()).isNull();
            });
  }

  @Test
  void oneDriverFeedIsReleased() {
    SetPlan plan = plan("QCW-1004", "Feed 1");

    assertThat(plan.set().releasedAt()).isNotNull();
    assertThat(service.bean(Releases.class).ofSet(plan.set().id())).hasSize(1);
  }

  @Test
  void aCableOfTheOtherWaitsForASecondSignatureToBeScrapped() {
    Disposition waiting = service.bean(Dispositions.class).of(assembly("DF-006").id()).get(0);

    assertThat(waiting.kind()).isEqualTo(Disposition.Kind.SCRAP);
    assertThat(waiting.state()).isEqualTo(Disposition.State.PENDING);
    assertThat(assembly("DF-006").state()).isEqualTo(AssemblyState.ON_HOLD);
    assertThat(count(plan("QCW-1004", "Feed 2"), AssemblyState.IN_TOLERANCE)).isEqualTo(3);
  }

  @Test
  void benchesCheckedTheirReferenceCablesForThreeWeeksUntilNow() {
    Instant now = Instant.now();

    for (Bench bench : service.bean(Catalog.class).benches()) {
      List<ReferenceCheck> checks = service.bean(ReferenceChecks.class).checks(bench.id(), 500);
      Instant last = checks.get(0).takenAt();
      assertThat(checks).hasSize(30);
      assertThat(last).isBetween(now.minus(Duration.ofHours(1)), now);
      assertThat(checks.get(29).takenAt()).isBefore(last.minusSeconds(17 * 86_400));
      assertThat(checks).allSatisfy(c -> assertThat(c.temperatureC()).isBetween(20.5, 24.5));
      double spreadDeg =
          checks.stream().mapToDouble(ReferenceCheck::phaseDeg).max().orElseThrow()
              - checks.stream().mapToDouble(ReferenceCheck::phaseDeg).min().orElseThrow();
      assertThat(spreadDeg).isBetween(0.05, 3.0);
    }
  }

  @Test
  void oneCalibrationIsDueSoonAndOneOverdue() {
    LocalDate today = LocalDate.now(ZoneOffset.UTC);

    assertThat(service.bean(Catalog.class).instruments())
        .extracting(Instrument::calibrationDue)
        .extracting(due -> CalibrationState.of(due, today))
        .containsExactlyInAnyOrder(
            CalibrationState.VALID, CalibrationState.DUE_SOON, CalibrationState.OVERDUE);
  }

  @Test
  void auditNamesWhoDidWhatAndItsChainHolds() {
    AuditLog audit = service.bean(AuditLog.class);

    ChainCheck check = service.bean(ChainChecker.class).check();
    assertThat(check.links()).isEmpty();
    assertThat(check.seals()).isEmpty();
    assertThat(check.sealedRows()).isPositive();
    assertThat(audit.entries("planner", "work order", null, null, 10))
        .extracting(AuditEntry::action)
        .containsOnly("ORDER_CREATED")
        .hasSize(4);
    assertThat(audit.entries("technician", "assembly", "SW-A-002", null, 50))
        .extracting(AuditEntry::action)
        .contains("READING_RECORDED", "INSTRUCTION_ISSUED", "SIGNED_OFF");
  }

  @Test
  void opensOnce() {
    service.bean(DemoShop.class).run(new DefaultApplicationArguments());

    assertThat(service.bean(WorkOrders.class).orders()).hasSize(4);
    assertThat(service.bean(Catalog.class).benches()).hasSize(3);
  }

  @Test
  void panelBWalksToMatched() throws IOException {
    SetPlan start = plan("QCW-1001", "Panel B");
    assertThat(count(start, AssemblyState.AWAITING_READING)).isEqualTo(16);
    long setId = start.set().id();

    record("first", 16);
    JsonNode planned = json(technician().get("/api/v1/sets/" + setId));
    assertThat(states(planned))
        .containsOnly("IN_TOLERANCE", "INSTRUCTED")
        .filteredOn(s -> s.equals("INSTRUCTED"))
        .hasSize(13);

    signOff(1, 13);
    record("after-cut", 13);
    assertThat(states(json(technician().get("/api/v1/sets/" + setId))))
        .filteredOn(s -> s.equals("INSTRUCTED"))
        .hasSize(1);
    signOff(2, 1);
    record("after-second-cut", 1);

    JsonNode matched = json(technician().get("/api/v1/sets/" + setId));
    assertThat(states(matched)).containsOnly("MATCHED").hasSize(16);
    assertThat(matched.get("set").get("matchedAt").isNull()).isFalse();
  }

  private static void record(String folder, int expected) throws IOException {
    Multipart parts = new Multipart();
    try (Stream<Path> files = Files.list(UPLOADS.resolve(folder))) {
      for (Path file : files.sorted().toList()) {
        parts.file("file", file.getFileName().toString(), Files.readAllBytes(file));
      }
    }
    HttpResponse<String> uploaded = technician().upload("/api/v1/files", parts);
    assertThat(uploaded.statusCode()).isEqualTo(201);
    JsonNode kept = json(uploaded);
    assertThat(kept.size()).isEqualTo(expected);
    long benchId = service.bean(Catalog.class).benchByName("Bench 1, S-band").orElseThrow().id();
    for (JsonNode file : kept) {
      assertThat(file.get("state").asString()).isEqualTo("READY");
      HttpResponse<String> confirmed =
          technician()
              .post(
                  "/api/v1/files/" + file.get("id").asLong() + "/confirm",
                  String.format(
                      Locale.ROOT,
                      """
                      {"version": %d, "serial": "%s", "benchId": %d, "temperatureC": 22.5}
                      """,
                      file.get("version").asInt(),
                      file.get("serial").asString(),
                      benchId));
      assertThat(confirmed.statusCode()).as(confirmed.body()).isEqualTo(200);
    }
  }

  private static void signOff(int cut, int expected) {
    List<CSVRecord> cuts =
        DemoFiles.table("uploads/cuts.csv").stream()
            .filter(row -> row.get("cut").equals("" + cut))
            .toList();
    assertThat(cuts).hasSize(expected);
    for (CSVRecord row : cuts) {
      JsonNode instruction =
          json(technician().get("/api/v1/instructions?serial=" + row.get("serial"))).get(0);
      assertThat(instruction.get("state").asString()).isEqualTo("ISSUED");
      assertThat(instruction.get("trimMm").asDouble())
          .isCloseTo(DemoFiles.number(row, "instructedTrimMm"), within(0.3));
      HttpResponse<String> signed =
          technician()
              .post(
                  "/api/v1/instructions/" + instruction.get("id").asLong() + "/sign-off",
                  String.format(
                      Locale.ROOT,
                      "{\"version\": %d, \"doneTrimMm\": %s}",
                      instruction.get("version").asInt(),
                      row.get("doneTrimMm")));
      assertThat(signed.statusCode()).as(signed.body()).isEqualTo(200);
    }
  }

  private static List<String> states(JsonNode plan) {
    List<String> states = new ArrayList<>();
    plan.get("members").forEach(m -> states.add(m.get("assembly").get("state").asString()));
    return states;
  }

  private static ApiClient technician() {
    return service.api(Role.TECHNICIAN);
  }

  private static SetPlan plan(String order, String name) {
    WorkOrders orders = service.bean(WorkOrders.class);
    MatchedSet set =
        orders.setsOf(orders.orderByNumber(order).id()).stream()
            .filter(s -> s.name().equals(name))
            .findFirst()
            .orElseThrow();
    return service.bean(Adjustments.class).plan(set.id());
  }

  private static long count(SetPlan plan, AssemblyState state) {
    return plan.members().stream().filter(m -> m.assembly().state() == state).count();
  }

  private static MemberPlan member(SetPlan plan, String serial) {
    return plan.members().stream()
        .filter(m -> m.assembly().serial().equals(serial))
        .findFirst()
        .orElseThrow();
  }

  private static Assembly assembly(String serial) {
    return service.bean(WorkOrders.class).assemblyBySerial(serial);
  }

  private static List<Assembly> assemblies(String order) {
    WorkOrders orders = service.bean(WorkOrders.class);
    return orders.assembliesOf(orders.orderByNumber(order).id());
  }
}
