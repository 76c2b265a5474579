package org.equiphase.review;

import java.time.Clock;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.adjustment.SetPlanned;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.review.Finding.Kind;
import org.equiphase.review.FindingTables.Key;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderChanged;
import org.equiphase.workorder.WorkOrders;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Keeps what QA has to look at, each time a set is planned. */
@Service
public class Findings {

  private final FindingTables tables;
  private final DispositionTables dispositions;
  private final ReviewRules rules;
  private final Adjustments adjustments;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Clock clock;

  Findings(
      FindingTables tables,
      DispositionTables dispositions,
      ReviewRules rules,
      Adjustments adjustments,
      WorkOrders workOrders,
      Catalog catalog,
      Clock clock) {
    this.tables = tables;
    this.dispositions = dispositions;
    this.rules = rules;
    this.adjustments = adjustments;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.clock = clock;
  }

  /** The next findings in the order in which they block shipments. */
  @Transactional(readOnly = true)
  public List<Finding> find(QueueFilter filter, int most) {
    return tables.find(filter, most);
  }

  @Transactional(readOnly = true)
  Map<Kind, Long> counts(QueueFilter filter) {
    return tables.counts(filter);
  }

  @Transactional(readOnly = true)
  List<Finding> byIds(List<Long> ids) {
    return tables.byIds(ids);
  }

  /** How many there are of each kind, by order; orders without any are left out. */
  @Transactional(readOnly = true)
  public Map<Long, Map<Kind, Long>> countsByOrder(Collection<Long> orderIds) {
    return tables.countsByOrder(orderIds);
  }

  /** How many there are in all. */
  @Transactional(readOnly = true)
  public long count() {
    return tables.counts(QueueFilter.ALL).values().stream().mapToLong(Long::longValue).sum();
  }

  /** How many orders have one that keeps a set from being released. */
  @Transactional(readOnly = true)
  public long blockedOrders() {
    return tables.blockedOrders();
  }

  @EventListener
  @Transactional
  public void on(SetPlanned event) {
    keep(event.plan());
  }

  @EventListener
  @Transactional
  public void on(OrderChanged event) {
    tables.setDueOn(event.orderId(), workOrders.order(event.orderId()).dueOn());
  }

  @EventListener
  @Transactional
  public void on(ReviewRulesChanged event) {
    tables.setRiskLimit(event.settings().atRiskProbability());
  }

  /** Fills in the findings of the next sets planned before findings were kept. */
  @Transactional
  public boolean fillSome(int most) {
    List<Long> sets = tables.setsToFill(most);
    for (Long setId : sets) {
      workOrders.lockSet(setId);
      keep(adjustments.plan(setId));
      tables.filled(setId);
    }
    return !sets.isEmpty();
  }

  private void keep(SetPlan plan) {
    Map<Long, Bench> benches = new HashMap<>();
    FindingRules rule =
        new FindingRules(rules.settings(), id -> benches.computeIfAbsent(id, catalog::bench));
    Set<Long> awaiting = new HashSet<>(dispositions.assembliesOpenIn(plan.set().id()));
    int missing = missing(plan);
    Map<Key, Finding> now = new HashMap<>();
    Set<Key> listed = new HashSet<>();
    for (MemberPlan member : plan.members()) {
      long assemblyId = member.assembly().id();
      rule.findings(plan, member, awaiting.contains(assemblyId))
          .forEach(
              (kind, isListed) -> {
                Key key = new Key(assemblyId, kind);
                now.put(key, finding(plan, member, kind, missing));
                if (isListed) {
                  listed.add(key);
                }
              });
    }
    tables.replace(plan.set().id(), now, listed);
  }

  private static int missing(SetPlan plan) {
    long good = plan.count(Verdict.IN_TOLERANCE) + plan.count(Verdict.CONCEDED);
    return (int) (plan.set().positions().size() - good);
  }

  private Finding finding(SetPlan plan, MemberPlan member, Kind kind, int missing) {
    Reading reading = member.reading();
    SpotPlan worst = FindingRules.worst(member);
    return new Finding(
        0,
        kind,
        member.assembly().id(),
        member.assembly().serial(),
        plan.set().id(),
        plan.set().name(),
        member.position().label(),
        plan.order().number(),
        plan.cableType().id(),
        member.assembly().cableLot(),
        reading == null ? null : reading.benchId(),
        reading == null ? null : reading.recordedBy(),
        plan.order().dueOn(),
        missing,
        member.probabilityIn(),
        worst == null ? null : worst.errorDeg(),
        worst == null ? null : worst.acceptanceDeg(),
        worst == null ? null : worst.frequencyHz(),
        reason(member, kind).toString(),
        clock.instant().truncatedTo(ChronoUnit.MICROS));
  }

  private Sentence reason(MemberPlan member, Kind kind) {
    Reading reading = member.reading();
    if (reading != null && kind == Kind.BAD_FIT) {
      return Sentence.of(
          "queue.badFit",
          Digits.of(Objects.requireNonNullElse(reading.worstResidualDeg(), 0.0), 2),
          Digits.of(Objects.requireNonNullElse(reading.worstResidualHz(), 0.0) / 1e9, 4));
    }
    if (reading != null && kind == Kind.CALIBRATION_OVERDUE) {
      return Sentence.of("queue.measuredOverdue", catalog.bench(reading.benchId()).name());
    }
    return member.reason();
  }
}
