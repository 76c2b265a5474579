package org.equiphase.workorder;

import static org.equiphase.web.Require.present;

import java.net.URI;
import java.time.LocalDate;
import java.util.List;
import org.equiphase.rf.InvalidQuantityException;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.util.UriComponentsBuilder;

/** Work orders for machine clients. */
@RestController
@RequestMapping("/api/v1/workorders")
class WorkOrderApi {

  private final WorkOrders workOrders;
  private final OrderRevisions revisions;

  WorkOrderApi(WorkOrders workOrders, OrderRevisions revisions) {
    this.workOrders = workOrders;
    this.revisions = revisions;
  }

  /** An order with everything that belongs to it. */
  record OrderAnswer(
      WorkOrder order,
      List<MatchedSet> sets,
      List<Assembly> assemblies,
      List<OrderRevision> revisions,
      List<CableNeed.Pieces> firstCuts) {}

  record OrderRequest(
      @Nullable String number,
      @Nullable String title,
      @Nullable LocalDate dueOn,
      @Nullable String cableLot,
      @Nullable SpecificationRequest specification,
      @Nullable List<OrderDraft.SetDraft> sets,
      @Nullable String serialPattern,
      @Nullable List<String> poolSerials) {

    OrderDraft read() {
      OrderDraft draft =
          new OrderDraft(
                  present("number", number),
                  present("title", title),
                  dueOn,
                  cableLot == null ? "" : cableLot.strip(),
                  present("specification", specification).read(),
                  sets == null ? List.of() : sets,
                  poolSerials == null ? List.of() : poolSerials)
              .writtenOut();
      return serialPattern == null ? draft : draft.withSerials("serialPattern", serialPattern);
    }
  }

  record RevisionRequest(
      @Nullable Integer version,
      @Nullable String title,
      @Nullable LocalDate dueOn,
      @Nullable SpecificationRequest specification,
      @Nullable List<OrderDraft.SetDraft> sets,
      @Nullable String cableLot,
      @Nullable String reason) {

    RevisionDraft read() {
      return new RevisionDraft(
          present("title", title),
          dueOn,
          present("specification", specification).read(),
          sets,
          cableLot == null ? "" : cableLot.strip(),
          present("reason", reason).strip());
    }
  }

  record ChangeRequest(
      @Nullable Integer version,
      @Nullable String title,
      @Nullable LocalDate dueOn,
      @Nullable SpecificationRequest specification) {}

  @GetMapping
  List<WorkOrder> orders() {
    return workOrders.orders();
  }

  @GetMapping("/{number}")
  OrderAnswer order(@PathVariable String number) {
    return answer(workOrders.orderByNumber(number));
  }

  @PostMapping
  ResponseEntity<OrderAnswer> create(@RequestBody OrderRequest request) {
    WorkOrder order = workOrders.create(request.read());
    URI place = UriComponentsBuilder.fromPath("/api/v1/workorders/{number}").build(order.number());
    return ResponseEntity.created(place).body(answer(order));
  }

  /** Changes an order; its specification only before the first reading. */
  @PutMapping("/{number}")
  OrderAnswer change(@PathVariable String number, @RequestBody ChangeRequest request) {
    return answer(
        revisions.change(
            workOrders.orderByNumber(number).id(),
            present("version", request.version),
            present("title", request.title),
            request.dueOn,
            present("specification", request.specification).read()));
  }

  /**
   * Revises an order, also after its first reading: its instructions are made anew, and what was
   * printed for the revision before is refused at the bench. Sets that are listed are all of them,
   * added ones included; without a list they stay as they are.
   */
  @PostMapping("/{number}/revisions")
  OrderAnswer revise(@PathVariable String number, @RequestBody RevisionRequest request) {
    return answer(
        revisions.revise(
            workOrders.orderByNumber(number).id(),
            present("version", request.version),
            request.read()));
  }

  /**
   * The cable that an order takes, and the lengths of its first cuts: {@code cutMm} now, {@code
   * finishedMm} ± {@code finishedSpreadMm} in the end.
   *
   * @param kerfMm cable that each saw cut takes
   * @param wastePercent what is lost, in percent of what is cut
   */
  @GetMapping("/{number}/cable")
  CableNeed cable(
      @PathVariable String number,
      @RequestParam(defaultValue = "2") double kerfMm,
      @RequestParam(defaultValue = "5") double wastePercent) {
    return workOrders.cableNeed(workOrders.orderByNumber(number), kerfMm, wastePercent);
  }

  private OrderAnswer answer(WorkOrder order) {
    return new OrderAnswer(
        order,
        workOrders.setsOf(order.id()),
        workOrders.assembliesOf(order.id()),
        revisions.of(order.id()),
        firstCuts(order));
  }

  /** Empty where the offsets leave no length to a member. */
  private List<CableNeed.Pieces> firstCuts(WorkOrder order) {
    try {
      return workOrders
          .cableNeed(order, CableNeed.USUAL_KERF_MM, CableNeed.USUAL_WASTE_PERCENT)
          .pieces();
    } catch (InvalidQuantityException e) {
      return List.of();
    }
  }
}
