package org.equiphase.demo;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.equiphase.catalog.Catalog;
import org.equiphase.workorder.OrderDraft;
import org.equiphase.workorder.WorkOrders;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/**
 * Opens the invented demo shop: planner and technicians bring in the files of demo-data, and QA
 * decides, all or nothing. Times are shifted so that the last of them has just passed; otherwise
 * due dates and reference checks would look long neglected, and no cut would be asked for.
 */
@Component
@ConditionalOnProperty("equiphase.demo-data")
@Order(0)
class DemoShop implements ApplicationRunner {

  private static final Logger LOG = LoggerFactory.getLogger(DemoShop.class);

  private static final Duration JUST_NOW = Duration.ofMinutes(2);

  private static final List<String> ORDERS =
      List.of(
          "orders/weather-panel.json",
          "orders/uhf-array.json",
          "orders/x-band-jumpers.json",
          "orders/driver-feeds.json");

  private final Catalog catalog;
  private final WorkOrders workOrders;
  private final DemoWork work;
  private final DemoDecisions decisions;
  private final SimulatedInstruments instruments;
  private final DemoPeople people;
  private final TransactionTemplate transaction;
  private final JsonMapper json;
  private final Clock clock;

  DemoShop(
      Catalog catalog,
      WorkOrders workOrders,
      DemoWork work,
      DemoDecisions decisions,
      SimulatedInstruments instruments,
      DemoPeople people,
      TransactionTemplate transaction,
      JsonMapper json,
      Clock clock) {
    this.catalog = catalog;
    this.workOrders = workOrders;
    this.work = work;
    this.decisions = decisions;
    this.instruments = instruments;
    this.people = people;
    this.transaction = transaction;
    this.json = json;
    this.clock = clock;
  }

  @Override
  public void run(ApplicationArguments arguments) {
    List<JsonNode> orders = ORDERS.stream().map(o -> json.readTree(DemoFiles.bytes(o))).toList();
    if (workOrders.findOrder(orders.get(0).get("number").asString()).isPresent()) {
      instruments.resume();
      return;
    }
    long startedAt = System.nanoTime();
    Instant last = work.last();
    Duration shift =
        Duration.between(last, clock.instant().minus(JUST_NOW)).truncatedTo(ChronoUnit.MINUTES);
    long shiftDays = ChronoUnit.DAYS.between(day(last), day(last.plus(shift)));
    transaction.executeWithoutResult(
        status -> {
          people.as("planner", () -> plan(orders, shiftDays));
          work.log(shift, people);
          people.as("qa", decisions::decide);
        });
    LOG.info("Demo shop loaded in {} ms", (System.nanoTime() - startedAt) / 1_000_000);
  }

  private static LocalDate day(Instant instant) {
    return LocalDate.ofInstant(instant, ZoneOffset.UTC);
  }

  private void plan(List<JsonNode> orders, long shiftDays) {
    DemoCatalog stored =
        DemoCatalog.load(catalog, day -> day.plusDays(shiftDays), instruments::start);
    for (JsonNode order : orders) {
      ObjectNode request = (ObjectNode) order.deepCopy();
      LocalDate dueOn = LocalDate.parse(request.get("dueOn").asString()).plusDays(shiftDays);
      request.put("dueOn", dueOn.toString());
      ObjectNode specification = (ObjectNode) request.get("specification");
      storedId(specification, "cableTypeId", stored.cableTypeIds());
      storedId(specification, "lineStretcherId", stored.lineStretcherIds());
      workOrders.create(json.treeToValue(request, OrderDraft.class));
    }
  }

  /** The files name a catalog entry by its row, which is its id in a fresh database only. */
  private static void storedId(ObjectNode specification, String field, List<Long> ids) {
    if (specification.has(field)) {
      specification.put(field, ids.get(specification.get(field).asInt() - 1));
    }
  }
}
