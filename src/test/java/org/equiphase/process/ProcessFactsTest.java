package org.equiphase.process;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.net.http.HttpResponse;
import java.time.Instant;
import java.util.List;
import org.equiphase.RunningService;
import org.equiphase.adjustment.SmallShop;
import org.equiphase.workorder.WorkOrders;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.springframework.jdbc.core.simple.JdbcClient;
import tools.jackson.databind.JsonNode;

/**
 * What is written as the work is done. The expected values are computed by hand from the lengths
 * that the shop's invented cables have: one millimetre is 4.8383° at 2.8 GHz and v = 0.695.
 */
@ExtendWith(RunningService.Extension.class)
class ProcessFactsTest {

  private final RunningService service;
  private final SmallShop shop;
  private final FactTables facts;

  ProcessFactsTest(RunningService service) {
    this.service = service;
    shop = new SmallShop(service);
    facts = service.bean(FactTables.class);
  }

  /** 2 mm too long is −2·360·2.8e9·1e-3/(0.695·299792458) = −9.676°. */
  @Test
  void theFirstReadingGivesErrorAndLossAndTheNextOnesDont() {
    shop.order(1, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1002);

    ProcessValue error = only(Characteristic.FIRST_ERROR);
    assertThat(error.value()).isCloseTo(-9.676, within(5e-4));
    assertThat(error.lowerLimit()).isEqualTo(-3);
    assertThat(error.upperLimit()).isEqualTo(3);
    assertThat(error.series().frequencyHz()).isEqualTo(2.8e9);
    assertThat(error.person()).isEqualTo("technician");
    assertThat(error.benchId()).isEqualTo(shop.benchId);
    assertThat(error.lot()).isEqualTo("order " + shop.orderNumber());
    assertThat(error.orderNumber()).isEqualTo(shop.orderNumber());
    assertThat(only(Characteristic.LOSS).value()).isEqualTo(1.2);
    assertThat(only(Characteristic.LOSS).upperLimit()).isEqualTo(2);

    shop.measure(shop.serial(1), 1001);

    assertThat(only(Characteristic.FIRST_ERROR)).isEqualTo(error);
    assertThat(of(Characteristic.LOSS)).hasSize(1);
  }

  @Test
  void aVoidedReadingTakesItsValuesOutAndTheNextOneCounts() {
    shop.order(1, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    long wrong = shop.measure(shop.serial(1), 1004);
    shop.measure(shop.serial(1), 1002);

    voidReading(wrong);

    assertThat(only(Characteristic.FIRST_ERROR).value()).isCloseTo(-9.676, within(5e-4));
    assertThat(of(Characteristic.LOSS)).hasSize(1);
  }

  /**
   * Signed off as 2.3 mm, the cable went from 1002.5 mm to 1000.35 mm: 2.15 mm were really cut, so
   * the error is −0.15 mm. The phases tell it by v = 0.695, the catalog's, no cut being known yet.
   */
  @Test
  void aCutIsMeasuredByThePhaseBeforeAndAfterIt() {
    long setId = shop.order(1, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1002.5);
    signOff(setId, 2.3);
    assertThat(of(Characteristic.CUT_ERROR)).isEmpty();

    long after = shop.measure(shop.serial(1), 1000.35);

    ProcessValue cut = only(Characteristic.CUT_ERROR);
    assertThat(cut.value()).isCloseTo(-0.15, within(1e-6));
    assertThat(cut.readingId()).isEqualTo(after);
    assertThat(cut.instructionId()).isNotNull();
    // The error at first cut stays what it was before the cut.
    assertThat(only(Characteristic.FIRST_ERROR).value())
        .isCloseTo(-2.5 * SmallShop.degPerMm(), within(1e-6));

    voidReading(after);

    assertThat(of(Characteristic.CUT_ERROR)).isEmpty();
  }

  /** In at the first reading; after two cuts; and never, for it is too short. */
  @Test
  void passesAtFirstOrLater() {
    long setId = shop.order(3, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1000.1);
    shop.measure(shop.serial(3), 997);
    shop.measure(shop.serial(2), 1004);
    signOff(setId, 2, 2.0);
    shop.measure(shop.serial(2), 1002);
    signOff(setId, 2, 2.0);
    shop.measure(shop.serial(2), 1000);

    assertThat(of(1, Characteristic.FIRST_PASS))
        .extracting(ProcessValue::value)
        .containsExactly(1.0);
    assertThat(of(2, Characteristic.FIRST_PASS))
        .extracting(ProcessValue::value)
        .containsExactly(0.0);
    assertThat(of(3, Characteristic.FIRST_PASS)).isEmpty();
    assertThat(of(3, Characteristic.CAUSE))
        .extracting(ProcessValue::cause)
        .containsExactly(Cause.TOO_SHORT);
    assertThat(of(1, Characteristic.CAUSE)).isEmpty();
  }

  @Test
  void aHoldByQaIsACauseAndEndsTheFirstPass() {
    shop.order(1, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1000.1);
    assertThat(only(Characteristic.FIRST_PASS).value()).isEqualTo(1);

    qa("hold");
    assertThat(of(Characteristic.FIRST_PASS)).isEmpty();
    qa("release");

    assertThat(only(Characteristic.CAUSE).cause()).isEqualTo(Cause.HELD);
    assertThat(only(Characteristic.FIRST_PASS).value()).isZero();
  }

  /**
   * Checks at 30°, 30.4° and 29.7° drift by 0, +0.4 and −0.3°; one at 29.9° before them is the new
   * baseline.
   */
  @Test
  void driftIsCountedFromTheFirstCheck() {
    Instant now = Instant.now();
    SmallShop unchecked = shop.another();
    unchecked.checkReference(30, now.minusSeconds(3000));
    unchecked.checkReference(30.4, now.minusSeconds(2000));
    unchecked.checkReference(29.7, now.minusSeconds(1000));
    assertThat(drift(unchecked))
        .usingElementComparator(ProcessFactsTest::near)
        .containsExactly(-0.3, 0.4, 0.0);

    unchecked.checkReference(29.9, now.minusSeconds(4000));

    assertThat(drift(unchecked))
        .usingElementComparator(ProcessFactsTest::near)
        .containsExactly(-0.2, 0.5, 0.1, 0.0);
  }

  /** What was stored before facts were kept gives the same facts, once and no more. */
  @Test
  void earlierWorkIsFilledIn() {
    long setId = shop.order(2, "NOMINAL", "MODULO_360", "", "\"decisionRule\": \"SIMPLE\",");
    shop.measure(shop.serial(1), 1002.5);
    shop.measure(shop.serial(2), 997);
    signOff(setId, 2.3);
    shop.measure(shop.serial(1), 1000.2);
    List<String> live = described();
    JdbcClient jdbc = service.bean(JdbcClient.class);
    WorkOrders workOrders = service.bean(WorkOrders.class);
    for (int i = 1; i <= 2; i++) {
      long id = workOrders.assemblyBySerial(shop.serial(i)).id();
      jdbc.sql("delete from process_value where assembly_id = ?").param(id).update();
      jdbc.sql("insert into process_pending values ('ASSEMBLY', ?)").param(id).update();
    }
    assertThat(described()).isEmpty();

    service.bean(Backfill.class).run();

    assertThat(described()).isEqualTo(live);
    assertThat(service.bean(Backfill.class).isRunning()).isFalse();
  }

  private List<String> described() {
    return java.util.stream.IntStream.rangeClosed(1, 2)
        .boxed()
        .flatMap(
            i ->
                facts.of(List.of(id(i))).stream()
                    .map(
                        v ->
                            String.format(
                                java.util.Locale.ROOT,
                                "%d %s %s %.2f",
                                i,
                                v.series().characteristic(),
                                v.cause(),
                                v.value())))
        .sorted()
        .toList();
  }

  private List<Double> drift(SmallShop at) {
    ValueTables values = service.bean(ValueTables.class);
    return values.series(Characteristic.DRIFT).stream()
        .flatMap(
            s -> values.newest(Selection.all(s).atBench(at.benchId), Window.OPEN, 100).stream())
        .map(ProcessValue::value)
        .toList();
  }

  private static int near(double a, double b) {
    return Math.abs(a - b) < 1e-9 ? 0 : Double.compare(a, b);
  }

  private void signOff(long setId, double doneTrimMm) {
    signOff(setId, 1, doneTrimMm);
  }

  private void signOff(long setId, int member, double doneTrimMm) {
    JsonNode instruction = shop.member(setId, shop.serial(member)).get("current");
    HttpResponse<String> answer = shop.signOff(instruction, doneTrimMm);
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  private void voidReading(long id) {
    HttpResponse<String> answer =
        shop.technician.post("/api/v1/readings/" + id + "/void", "{\"reason\": \"wrong cable\"}");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  private void qa(String what) {
    HttpResponse<String> answer =
        shop.qa.post(
            "/api/v1/review/assemblies/" + shop.serial(1) + "/" + what,
            "{\"reason\": \"to be looked at\"}");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  private long id(int member) {
    return service.bean(WorkOrders.class).assemblyBySerial(shop.serial(member)).id();
  }

  private ProcessValue only(Characteristic characteristic) {
    assertThat(of(characteristic)).hasSize(1);
    return of(characteristic).get(0);
  }

  private List<ProcessValue> of(Characteristic characteristic) {
    return of(1, characteristic);
  }

  private List<ProcessValue> of(int member, Characteristic characteristic) {
    return facts.of(List.of(id(member))).stream()
        .filter(v -> v.series().characteristic() == characteristic)
        .toList();
  }
}
