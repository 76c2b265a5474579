package org.equiphase.process;

import java.util.List;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlanned;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.ContextClosedEvent;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Fills in the facts of what was stored before facts were kept, a set at a time, in the background.
 * What is done is struck off in the same transaction, so that it can be broken off and goes on at
 * the next start; instances that do it at once don't get in each other's way.
 */
@Component
class Backfill {

  private static final Logger LOG = LoggerFactory.getLogger(Backfill.class);

  private final JdbcClient jdbc;
  private final TransactionTemplate transaction;
  private final FactWriter facts;
  private final OutcomeWriter outcomes;
  private final WorkOrders workOrders;
  private final ReferenceChecks referenceChecks;
  private final Adjustments adjustments;
  private volatile boolean stopped;
  private @Nullable Thread worker;

  Backfill(
      JdbcClient jdbc,
      TransactionTemplate transaction,
      FactWriter facts,
      OutcomeWriter outcomes,
      WorkOrders workOrders,
      ReferenceChecks referenceChecks,
      Adjustments adjustments) {
    this.jdbc = jdbc;
    this.transaction = transaction;
    this.facts = facts;
    this.outcomes = outcomes;
    this.workOrders = workOrders;
    this.referenceChecks = referenceChecks;
    this.adjustments = adjustments;
  }

  @EventListener(ApplicationReadyEvent.class)
  void start() {
    if (!isRunning()) {
      return;
    }
    worker = new Thread(this::run, "process-backfill");
    worker.setDaemon(true);
    worker.start();
  }

  @EventListener(ContextClosedEvent.class)
  void stop() throws InterruptedException {
    stopped = true;
    if (worker != null) {
      worker.join(10_000);
    }
  }

  /** Whether values of earlier work are still missing. */
  boolean isRunning() {
    return nextAfter("CHECK", Long.MIN_VALUE) != null
        || nextAfter("ASSEMBLY", Long.MIN_VALUE) != null;
  }

  void run() {
    LOG.info("Reading earlier work into the process charts");
    for (String kind : List.of("CHECK", "ASSEMBLY")) {
      Long id = nextAfter(kind, Long.MIN_VALUE);
      while (id != null && !stopped) {
        fill(kind, id);
        id = nextAfter(kind, id);
      }
    }
  }

  private void fill(String kind, long id) {
    try {
      transaction.executeWithoutResult(
          status -> {
            if (kind.equals("CHECK")) {
              if (strike(kind, id)) {
                facts.write(referenceChecks.check(id));
              }
            } else {
              fill(workOrders.assembly(id));
            }
          });
    } catch (RuntimeException e) {
      LOG.warn("No process values of {} {} until the next start", kind, id, e);
    }
  }

  /** A set at a time: the plan says what became of all its members. */
  private void fill(Assembly first) {
    Long setId = first.setId();
    if (setId == null) {
      facts.write(first);
      strike("ASSEMBLY", first.id());
      return;
    }
    SetPlan plan = adjustments.plan(workOrders.lockSet(setId).id());
    outcomes.on(new SetPlanned(plan));
    for (Assembly member : workOrders.members(setId)) {
      facts.write(member);
      strike("ASSEMBLY", member.id());
    }
  }

  private boolean strike(String kind, long id) {
    return jdbc.sql("delete from process_pending where kind = ? and id = ?")
            .param(kind)
            .param(id)
            .update()
        == 1;
  }

  private @Nullable Long nextAfter(String kind, long id) {
    return jdbc.sql(
            "select id from process_pending where kind = ? and id > ? order by kind, id limit 1")
        .param(kind)
        .param(id)
        .query(Long.class)
        .optional()
        .orElse(null);
  }
}
