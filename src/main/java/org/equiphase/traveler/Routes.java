package org.equiphase.traveler;

import static org.equiphase.web.Require.present;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.equiphase.audit.AuditLog;
import org.equiphase.traveler.Route.RouteStep;
import org.equiphase.traveler.RouteDraft.StepDraft;
import org.equiphase.web.ConflictException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The routes that planners keep, and which order takes which. */
@Service
public class Routes {

  private final JdbcClient jdbc;
  private final WorkOrders workOrders;
  private final AuditLog audit;

  Routes(JdbcClient jdbc, WorkOrders workOrders, AuditLog audit) {
    this.jdbc = jdbc;
    this.workOrders = workOrders;
    this.audit = audit;
  }

  /**
   * The route that an order takes.
   *
   * @param version of that choice; 0 where none was made
   */
  public record OfOrder(Route route, int version) {}

  /** All routes by name, the retired ones last. */
  @Transactional(readOnly = true)
  public List<Route> all() {
    return jdbc
        .sql("select id from route order by case when retired then 1 else 0 end, name")
        .query(Long.class)
        .list()
        .stream()
        .map(this::route)
        .toList();
  }

  @Transactional(readOnly = true)
  public Route route(long id) {
    return find(id).orElseThrow(() -> new NotFoundException("route", "" + id));
  }

  @Transactional(readOnly = true)
  public OfOrder ofOrder(long orderId) {
    return jdbc.sql("select route_id, version from order_route where work_order_id = ?")
        .param(orderId)
        .query((row, i) -> new OfOrder(route(row.getLong("route_id")), row.getInt("version")))
        .optional()
        .orElseGet(() -> new OfOrder(route(Route.STANDARD), 0));
  }

  @Transactional
  public Route create(RouteDraft draft) {
    draft.check();
    String name = freeName(draft, 0);
    jdbc.sql("insert into route (version, name, retired) values (0, ?, false)")
        .param(name)
        .update();
    long id =
        jdbc.sql("select id from route where name = ?").param(name).query(Long.class).single();
    writeSteps(id, Map.of(), draft.given());
    return recorded("ROUTE_CREATED", route(id));
  }

  /** Changes a route for all orders that take it; what was signed off stays signed off. */
  @Transactional
  public Route change(long id, int version, RouteDraft draft) {
    draft.check();
    Route before = route(id);
    String name = freeName(draft, id);
    requireChanged(
        jdbc.sql("update route set name = ?, version = version + 1 where id = ? and version = ?")
            .params(name, id, version)
            .update(),
        before);
    Map<Long, RouteStep> old =
        before.steps().stream().collect(Collectors.toMap(RouteStep::number, Function.identity()));
    jdbc.sql("delete from route_step where route_id = ?").param(id).update();
    writeSteps(id, old, draft.given());
    return recorded("ROUTE_CHANGED", route(id));
  }

  /** Takes a route out of use, or back into it. Orders that have it keep it. */
  @Transactional
  public Route retire(long id, int version, boolean retired) {
    Route before = route(id);
    if (before.isStandard()) {
      throw new ConflictException(Sentence.of("traveler.route.standardStays", before.name()));
    }
    requireChanged(
        jdbc.sql("update route set retired = ?, version = version + 1 where id = ? and version = ?")
            .params(retired, id, version)
            .update(),
        before);
    return recorded(retired ? "ROUTE_RETIRED" : "ROUTE_TAKEN_BACK", route(id));
  }

  /**
   * Gives an order its route.
   *
   * @param version of the choice that this one follows, see {@link OfOrder}
   */
  @Transactional
  public OfOrder choose(String orderNumber, long routeId, int version) {
    WorkOrder order = workOrders.orderByNumber(orderNumber);
    Route route = route(routeId);
    OfOrder before = ofOrder(order.id());
    if (before.version() != version) {
      throw new ConflictException(
          Sentence.of("traveler.route.choiceChanged", orderNumber, before.route().name()));
    }
    if (before.route().id() == routeId) {
      return before;
    }
    if (route.retired()) {
      throw new ConflictException(Sentence.of("traveler.route.isRetired", route.name()));
    }
    int written =
        version == 0
            ? jdbc.sql(
                    """
                    insert into order_route (work_order_id, version, route_id) values (?, 1, ?)
                    on conflict do nothing
                    """)
                .params(order.id(), routeId)
                .update()
            : jdbc.sql(
                    """
                    update order_route set route_id = ?, version = version + 1
                    where work_order_id = ? and version = ?
                    """)
                .params(routeId, order.id(), version)
                .update();
    if (written == 0) {
      throw new ConflictException(
          Sentence.of(
              "traveler.route.choiceChanged", orderNumber, ofOrder(order.id()).route().name()));
    }
    audit.record(
        "ROUTE_CHOSEN",
        "work order",
        orderNumber,
        Map.of("route", route.name(), "before", before.route().name()));
    return ofOrder(order.id());
  }

  private Optional<Route> find(long id) {
    List<RouteStep> steps =
        jdbc.sql(
                """
                select number, kind, instruction, asks_value from route_step
                where route_id = ? order by place
                """)
            .param(id)
            .query(RouteStep.class)
            .list();
    return jdbc.sql("select * from route where id = ?")
        .param(id)
        .query(
            (row, i) ->
                new Route(
                    id,
                    row.getInt("version"),
                    row.getString("name"),
                    row.getBoolean("retired"),
                    steps))
        .optional();
  }

  /** A step keeps its number while it stays of its kind; else it is another step. */
  private void writeSteps(long routeId, Map<Long, RouteStep> old, List<StepDraft> steps) {
    for (int i = 0; i < steps.size(); i++) {
      StepDraft step = steps.get(i);
      StepKind kind = present("kind", step.kind());
      RouteStep was = step.number() == null ? null : old.get(step.number());
      Map<String, Object> row = new HashMap<>();
      row.put("route", routeId);
      row.put("place", i + 1);
      row.put("kind", kind.name());
      row.put("instruction", step.words());
      row.put("asks", step.asks());
      if (was != null && was.kind() == kind) {
        row.put("number", was.number());
        insert("number, ", ":number, ", row);
      } else {
        insert("", "", row);
      }
    }
  }

  private void insert(String column, String value, Map<String, ?> row) {
    jdbc.sql(
            "insert into route_step (%sroute_id, place, kind, instruction, asks_value)"
                    .formatted(column)
                + " values (%s:route, :place, :kind, :instruction, :asks)".formatted(value))
        .params(row)
        .update();
  }

  /**
   * Looked up before it is stored: on PostgreSQL a refused statement would spoil the transaction in
   * which the page with the reason is still to be read.
   */
  private String freeName(RouteDraft draft, long id) {
    String name = present("name", draft.name()).strip();
    if (jdbc.sql("select 1 from route where name = ? and id <> ?")
        .params(name, id)
        .query()
        .listOfRows()
        .isEmpty()) {
      return name;
    }
    throw new ConflictException(Sentence.of("traveler.route.nameTaken", name));
  }

  private static void requireChanged(int rows, Route route) {
    if (rows == 0) {
      throw new ConflictException(Sentence.of("traveler.route.changed", route.name()));
    }
  }

  private Route recorded(String action, Route route) {
    audit.record(
        action,
        "route",
        route.name(),
        Map.of(
            "id",
            route.id(),
            "retired",
            route.retired(),
            "steps",
            route.steps().stream().map(Routes::told).toList()));
    return route;
  }

  private static String told(RouteStep step) {
    return step.number()
        + " "
        + step.kind()
        + (step.instruction().isEmpty() ? "" : ": " + step.instruction());
  }
}
