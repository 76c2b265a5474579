package org.equiphase.workorder;

import static org.equiphase.web.Require.present;

import java.net.URI;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.util.UriComponentsBuilder;

/** Work orders for machine clients. */
@RestController
@RequestMapping("/api/v1/workorders")
class WorkOrderApi {

  private final WorkOrders workOrders;

  WorkOrderApi(WorkOrders workOrders) {
    this.workOrders = workOrders;
  }

  /** An order with everything that belongs to it. */
  record OrderAnswer(WorkOrder order, List<MatchedSet> sets, List<Assembly> assemblies) {}

  record OrderRequest(
      @Nullable String number,
      @Nullable String title,
      @Nullable LocalDate dueOn,
      @Nullable String cableLot,
      @Nullable SpecificationRequest specification,
      @Nullable List<OrderDraft.SetDraft> sets,
      @Nullable List<String> poolSerials) {}

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
    WorkOrder order =
        workOrders.create(
            new OrderDraft(
                present("number", request.number),
                present("title", request.title),
                request.dueOn,
                request.cableLot == null ? "" : request.cableLot.strip(),
                present("specification", request.specification).read(),
                request.sets == null ? List.of() : request.sets,
                request.poolSerials == null ? List.of() : request.poolSerials));
    URI place = UriComponentsBuilder.fromPath("/api/v1/workorders/{number}").build(order.number());
    return ResponseEntity.created(place).body(answer(order));
  }

  /** Changes an order; its specification only before the first reading. */
  @PutMapping("/{number}")
  OrderAnswer change(@PathVariable String number, @RequestBody ChangeRequest request) {
    return answer(
        workOrders.change(
            workOrders.orderByNumber(number).id(),
            present("version", request.version),
            present("title", request.title),
            request.dueOn,
            present("specification", request.specification).read()));
  }

  private OrderAnswer answer(WorkOrder order) {
    return new OrderAnswer(
        order, workOrders.setsOf(order.id()), workOrders.assembliesOf(order.id()));
  }
}
