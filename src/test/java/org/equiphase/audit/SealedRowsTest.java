package org.equiphase.audit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.concurrent.CompletableFuture;
import org.equiphase.ApiClient;
import org.equiphase.RunningService;
import org.equiphase.account.Role;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import tools.jackson.databind.JsonNode;

/** Rows changed past the service are found and named; each test mends what it broke. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SealedRowsTest {

  private RunningService service;
  private TamperedShop tampered;

  @BeforeAll
  void start() throws InterruptedException {
    service = RunningService.start("equiphase.demo-accounts=true");
    StartChecks.await(service);
    tampered = new TamperedShop(service);
    assertThat(tampered.faults()).isEmpty();
    assertThat(tampered.check().get("sealedRows").asInt()).isEqualTo(5);
  }

  @AfterEach
  void mended() {
    assertThat(tampered.faults()).isEmpty();
  }

  @AfterAll
  void stop() {
    service.close();
  }

  @Test
  void aChangedPhase() {
    String change = "update reading_spot set phase_deg = phase_deg %s 0.25 where reading_id = ?";
    tampered.sql(change.formatted("+"), tampered.readingId);

    assertThat(tampered.faults()).containsExactly("CHANGED reading " + tampered.readingId);
    JsonNode found = tampered.check().get("seals").get(0);
    assertThat(found.get("entry").get("action").asString()).isEqualTo("READING_RECORDED");
    assertThat(found.get("entry").get("actor").asString()).isEqualTo("technician");
    assertThat(found.get("entry").get("subjectKey").asString()).isEqualTo(tampered.tooLong);
    assertThat(service.pages(Role.QA).get("/audit/chain").body())
        .contains("reading " + tampered.readingId + " was changed", tampered.tooLong)
        .contains("do not cut, sign off or ship");

    tampered.sql(change.formatted("-"), tampered.readingId);
  }

  @Test
  void aChangedTimeOrTemperatureOfAReading() {
    tampered.sql("update reading set temperature_c = 25 where id = ?", tampered.readingId);
    assertThat(tampered.faults()).containsExactly("CHANGED reading " + tampered.readingId);
    tampered.sql("update reading set temperature_c = 23 where id = ?", tampered.readingId);

    String later = "update reading set taken_at = taken_at %s interval '1' second where id = ?";
    tampered.sql(later.formatted("-"), tampered.readingId);
    assertThat(tampered.faults()).containsExactly("CHANGED reading " + tampered.readingId);
    tampered.sql(later.formatted("+"), tampered.readingId);
  }

  @Test
  void aRowThatNoLongerMakesSenseHidesNoOther() {
    tampered.sql("update reading set method = 'GUESSED' where id = ?", tampered.readingId);
    tampered.sql("update instruction set done_by = 'qa' where id = ?", tampered.instructionId);
    assertThat(tampered.faults())
        .containsExactlyInAnyOrder(
            "CHANGED reading " + tampered.readingId, "CHANGED sign-off " + tampered.instructionId);
    tampered.sql("update reading set method = 'TRANSMISSION' where id = ?", tampered.readingId);
    tampered.sql(
        "update instruction set done_by = 'technician' where id = ?", tampered.instructionId);
  }

  @Test
  void writesDuringTheCheckRaiseNoAlarm() {
    CompletableFuture<Void> writer =
        CompletableFuture.runAsync(
            () -> {
              for (int i = 0; i < 40; i++) {
                changeOrder("title " + i);
                tampered.shop.checkReference(30.1, null);
              }
            });
    do {
      assertThat(tampered.faults()).isEmpty();
    } while (!writer.isDone());
    writer.join();
  }

  @Test
  void aReadingVoidedPastTheService() {
    tampered.sql(
        """
        update reading set voided_at = current_timestamp, voided_by = 'qa', void_reason = 'x'
        where id = ?
        """,
        tampered.readingId);
    assertThat(tampered.faults()).containsExactly("ADDED voided reading " + tampered.readingId);
    tampered.sql(
        "update reading set voided_at = null, voided_by = null, void_reason = null where id = ?",
        tampered.readingId);
  }

  @Test
  void aVoidedReadingMadeValidAgain() {
    long id = tampered.shop.measure(tampered.shop.serial(2), 1000.01);
    var answer =
        tampered.shop.qa.post("/api/v1/readings/" + id + "/void", "{\"reason\": \"loose nut\"}");
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(tampered.faults()).isEmpty();
    String at = tampered.text("select voided_at from reading where id = ?", id);

    tampered.sql("update reading set voided_at = null where id = ?", id);
    assertThat(tampered.faults()).containsExactly("REMOVED voided reading " + id);
    tampered.sql(
        "update reading set voided_at = cast(? as timestamp with time zone) where id = ?", at, id);
  }

  @Test
  void anInsertedReading() {
    tampered.sql(
        """
        insert into reading (id, assembly_id, bench_id, instrument_id, method, source,
          temperature_c, taken_at, recorded_at, recorded_by, standard_uncertainty_deg)
        select 900001, assembly_id, bench_id, instrument_id, method, source,
          temperature_c, taken_at, recorded_at, recorded_by, standard_uncertainty_deg
        from reading where id = ?
        """,
        tampered.readingId);
    assertThat(tampered.faults()).containsExactly("ADDED reading 900001");
    assertThat(service.pages(Role.QA).get("/audit/chain").body())
        .contains("reading 900001 was added outside of the service");
    tampered.sql("delete from reading where id = 900001");
  }

  @Test
  void aChangedSignOff() {
    String change = "update instruction set done_trim_mm = done_trim_mm %s 0.5 where id = ?";
    tampered.sql(change.formatted("+"), tampered.instructionId);
    assertThat(tampered.faults()).containsExactly("CHANGED sign-off " + tampered.instructionId);
    tampered.sql(change.formatted("-"), tampered.instructionId);

    tampered.sql("update instruction set done_by = 'qa' where id = ?", tampered.instructionId);
    assertThat(tampered.faults()).containsExactly("CHANGED sign-off " + tampered.instructionId);
    tampered.sql(
        "update instruction set done_by = 'technician' where id = ?", tampered.instructionId);

    tampered.sql("update instruction set state = 'ISSUED' where id = ?", tampered.instructionId);
    assertThat(tampered.faults()).containsExactly("REMOVED sign-off " + tampered.instructionId);
    tampered.sql("update instruction set state = 'DONE' where id = ?", tampered.instructionId);
  }

  @Test
  void aWidenedToleranceAndThatARevisedOrderCountsAsRevised() {
    long id = changeOrder("another");
    assertThat(tampered.faults()).isEmpty();

    tampered.sql(
        "update specification_frequency set tolerance_deg = 30 where work_order_id = ?", id);
    assertThat(tampered.faults()).containsExactly("CHANGED work order " + id);
    assertThat(tampered.check().get("seals").get(0).get("entry").get("action").asString())
        .isEqualTo("ORDER_CHANGED");
    tampered.sql(
        "update specification_frequency set tolerance_deg = 3 where work_order_id = ?", id);

    String offset = "update set_position set offset_phase_deg = %s where label = '2'";
    tampered.sql(offset.formatted("1"));
    assertThat(tampered.faults()).containsExactly("CHANGED work order " + id);
    tampered.sql(offset.formatted("0"));
  }

  @Test
  void aReferenceCheckThatIsGone() {
    tampered.shop.checkReference(30.2, null);
    long id = Long.parseLong(tampered.text("select max(id) from reference_check"));
    tampered.sql("update reference_check set id = -id where id = ?", id);
    assertThat(tampered.faults())
        .containsExactly("REMOVED reference check " + id, "ADDED reference check " + -id);
    tampered.sql("update reference_check set id = -id where id = ?", -id);
  }

  /** Changes the order's title, as its planner may; returns its id. */
  private long changeOrder(String title) {
    String path = "/api/v1/workorders/" + tampered.shop.orderNumber();
    JsonNode order = ApiClient.json(tampered.shop.planner.get(path)).get("order");
    var answer =
        tampered.shop.planner.put(
            path,
            "{\"version\": %d, \"title\": \"%s\", \"specification\": %s}"
                .formatted(order.get("version").asInt(), title, order.get("specification")));
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    return order.get("id").asLong();
  }
}
