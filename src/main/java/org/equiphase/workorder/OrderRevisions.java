package org.equiphase.workorder;

import java.time.Clock;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How orders change after they were made, and what their revisions were. */
@Service
class OrderRevisions {

  private final WorkOrders workOrders;
  private final WorkOrderTables tables;
  private final AssemblyTables assemblies;
  private final RevisionTables history;
  private final Catalog catalog;
  private final OrderSeal seal;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;
  private final Clock clock;

  OrderRevisions(
      WorkOrders workOrders,
      WorkOrderTables tables,
      AssemblyTables assemblies,
      RevisionTables history,
      Catalog catalog,
      OrderSeal seal,
      AuditLog audit,
      ApplicationEventPublisher events,
      Clock clock) {
    this.workOrders = workOrders;
    this.tables = tables;
    this.assemblies = assemblies;
    this.history = history;
    this.catalog = catalog;
    this.seal = seal;
    this.audit = audit;
    this.events = events;
    this.clock = clock;
  }

  /** How an order came to its revision, the newest first; its first has no entry. */
  List<OrderRevision> of(long orderId) {
    return history.of(orderId);
  }

  /** Changes an order before its first reading; a changed specification gets the next revision. */
  @Transactional
  WorkOrder change(
      long id, int version, String title, @Nullable LocalDate dueOn, Specification specification) {
    WorkOrder before = workOrders.order(id);
    new OrderChecks(catalog).change(title, specification, workOrders.setsOf(id));
    if (!before.specification().equals(specification) && workOrders.isMeasured(id)) {
      throw new ConflictException(Sentence.of("order.hasReadings", before.number()));
    }
    RevisionDraft draft = new RevisionDraft(title, dueOn, specification, null, "", "");
    return store(before, version, draft, List.of());
  }

  /**
   * Revises an order, also after its first reading. Readings stay and count for the new revision,
   * so what they were reduced with can't change; concessions were given for the old one and end.
   * Sets may be added; a set of the order keeps its members, and its offsets once it was worked on.
   */
  @Transactional
  WorkOrder revise(long id, int version, RevisionDraft draft) {
    WorkOrder before = workOrders.order(id);
    Specification specification = draft.specification();
    new Checks().text("reason", draft.reason(), 500).done();
    // In the order of their ids; whoever signs off or releases meanwhile waits, and looks again.
    List<MatchedSet> sets =
        workOrders.setsOf(id).stream().map(set -> workOrders.lockSet(set.id())).toList();
    boolean measured = workOrders.isMeasured(id);
    List<FieldProblem> problems =
        WorkOrders.problemsOf(
            () -> new OrderChecks(catalog).change(draft.title(), specification, sets),
            () -> new OrderChecks(catalog).revision(before, specification, sets, measured),
            () -> checkSets(id, draft, sets));
    if (!problems.isEmpty()) {
      throw new InvalidInputException(problems);
    }
    List<RevisionChange> ofSets = changesOfSets(draft, sets);
    if (before.specification().equals(specification) && ofSets.isEmpty()) {
      throw InvalidInputException.of(
          "specification", Sentence.of("order.nothingRevised", before.revision()));
    }
    for (MatchedSet set : sets) {
      if (set.releasedAt() != null) {
        throw new ConflictException(Sentence.of("order.setReleased", set.name()));
      }
    }
    workOrders.assembliesOf(id).stream()
        .filter(a -> !a.isGone() && a.terms().concededReadingId() != null)
        .forEach(workOrders::withoutConcession);
    return store(before, version, draft, ofSets);
  }

  private void checkSets(long orderId, RevisionDraft draft, List<MatchedSet> present) {
    List<SetDraft> asked = draft.sets();
    if (asked == null) {
      return;
    }
    Map<Long, String> serialAt = workOrders.serialAtPosition(orderId);
    Set<Long> begun =
        present.stream()
            .filter(set -> WorkOrders.isWorkedOn(set, workOrders.members(set.id())))
            .map(MatchedSet::id)
            .collect(Collectors.toSet());
    new OrderChecks(catalog)
        .revisedSets(draft.specification().basis(), present, serialAt, begun, asked);
    Map<String, String> fields = WorkOrders.serialFields(asked);
    fields.keySet().removeAll(serialAt.values());
    Checks checks = new Checks();
    workOrders.refuseTaken(checks, fields);
    checks.done();
  }

  private static List<RevisionChange> changesOfSets(RevisionDraft draft, List<MatchedSet> present) {
    List<RevisionChange> changes = new ArrayList<>();
    forEachSet(
        draft,
        present,
        (set, position, asked) -> changes.add(RevisionChange.ofOffset(set, position, asked)),
        added -> changes.add(RevisionChange.ofSet(added)));
    return changes;
  }

  /** Does something with a position whose offset is to change. */
  private interface OffsetTaker {
    void take(MatchedSet set, SetPosition position, PositionDraft asked);
  }

  private static void forEachSet(
      RevisionDraft draft, List<MatchedSet> present, OffsetTaker moved, Consumer<SetDraft> added) {
    for (SetDraft asked : Objects.requireNonNullElse(draft.sets(), List.<SetDraft>of())) {
      Optional<MatchedSet> known =
          present.stream().filter(set -> set.name().equals(asked.name())).findFirst();
      if (known.isEmpty()) {
        added.accept(asked);
        continue;
      }
      for (SetPosition position : known.get().positions()) {
        PositionDraft there = asked.positions().get(position.ordinal());
        if (there.movesOffset(position)) {
          moved.take(known.get(), position, there);
        }
      }
    }
  }

  private WorkOrder store(
      WorkOrder before, int version, RevisionDraft draft, List<RevisionChange> ofSets) {
    long id = before.id();
    String title = draft.title();
    String reason = draft.reason();
    Specification specification = draft.specification();
    List<RevisionChange> changes =
        new ArrayList<>(RevisionChange.between(before.specification(), specification, catalog));
    changes.addAll(ofSets);
    boolean revised = !changes.isEmpty();
    String revision = revised ? next(before.revision()) : before.revision();
    if (!tables.updateOrder(id, version, title, draft.dueOn(), specification, revision)) {
      throw new ConflictException(Sentence.of("order.changedMeanwhile", before.number()));
    }
    forEachSet(
        draft,
        workOrders.setsOf(id),
        (set, position, asked) -> tables.updateOffset(position, asked),
        set -> workOrders.insertSet(id, set, draft.cableLot(), specification.stretcherStartMm()));
    if (revised) {
      if (!workOrders.isMeasured(id)) {
        assemblies.resetStretcherStart(id, specification.stretcherStartMm());
      }
      history.insert(
          id, new OrderRevision(revision, clock.instant(), Actor.name(), reason, changes));
    }
    WorkOrder changed = workOrders.order(id);
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("title", title);
    details.put("revision", revision);
    if (!reason.isEmpty()) {
      details.put("reason", reason);
    }
    details.put("before", before.specification().toString());
    details.put("after", specification.toString());
    if (!ofSets.isEmpty()) {
      details.put("sets", ofSets.stream().map(RevisionChange::toString).toList());
    }
    audit.record(
        revised ? "ORDER_REVISED" : "ORDER_CHANGED",
        "work order",
        before.number(),
        details,
        seal.seal(changed));
    events.publishEvent(new OrderChanged(id, revised));
    return changed;
  }

  /** A…Z, then AA…: I, O and Q are kept out of revision letters (common practice, no source). */
  static String next(String revision) {
    String letters = "ABCDEFGHJKLMNPRSTUVWXYZ";
    int last = letters.indexOf(revision.charAt(revision.length() - 1));
    String head = revision.substring(0, revision.length() - 1);
    if (last < letters.length() - 1) {
      return head + letters.charAt(last + 1);
    }
    return (head.isEmpty() ? "A" : next(head)) + "A";
  }
}
