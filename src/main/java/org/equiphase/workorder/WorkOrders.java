package org.equiphase.workorder;

import java.time.Clock;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.rf.FirstCut;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.FieldProblem;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.OrderDraft.PositionDraft;
import org.equiphase.workorder.OrderDraft.SetDraft;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Work orders, their sets and assemblies. Nothing is ever deleted. */
@Service
public class WorkOrders {

  private final WorkOrderTables tables;
  private final AssemblyTables assemblies;
  private final Catalog catalog;
  private final OrderSeal seal;
  private final AuditLog audit;
  private final Clock clock;

  WorkOrders(
      WorkOrderTables tables,
      AssemblyTables assemblies,
      Catalog catalog,
      OrderSeal seal,
      AuditLog audit,
      Clock clock) {
    this.tables = tables;
    this.assemblies = assemblies;
    this.catalog = catalog;
    this.seal = seal;
    this.audit = audit;
    this.clock = clock;
  }

  /** All orders, the newest first. */
  public List<WorkOrder> orders() {
    return tables.orders();
  }

  public WorkOrder order(long id) {
    return tables.order(id).orElseThrow(() -> new NotFoundException("work order", "" + id));
  }

  public WorkOrder orderByNumber(String number) {
    return findOrder(number).orElseThrow(() -> new NotFoundException("work order", number));
  }

  public Optional<WorkOrder> findOrder(String number) {
    return tables.orderByNumber(number);
  }

  public List<MatchedSet> setsOf(long orderId) {
    return tables.setsOf(orderId);
  }

  public MatchedSet set(long id) {
    return tables.set(id).orElseThrow(() -> new NotFoundException("set", "" + id));
  }

  /** Every assembly ever made for the order, by serial number. */
  public List<Assembly> assembliesOf(long orderId) {
    return assemblies.ofOrder(orderId);
  }

  /** The assemblies now at the set's positions, in position order. */
  public List<Assembly> members(long setId) {
    return assemblies.members(setId);
  }

  /** The latest assemblies made from a lot of cable, the newest first. */
  public List<Assembly> ofLot(String cableLot, int most) {
    return assemblies.ofLot(cableLot, most);
  }

  public Assembly assembly(long id) {
    return assemblies.assembly(id).orElseThrow(() -> new NotFoundException("assembly", "" + id));
  }

  public Assembly assemblyBySerial(String serial) {
    return findAssembly(serial).orElseThrow(() -> new NotFoundException("assembly", serial));
  }

  public Optional<Assembly> findAssembly(String serial) {
    return assemblies.bySerial(serial);
  }

  /** Serial numbers of the assemblies that stand at an order's positions, by position. */
  public Map<Long, String> serialAtPosition(long orderId) {
    Map<Long, String> serialAt = new HashMap<>();
    for (Assembly assembly : assembliesOf(orderId)) {
      Long position = assembly.positionId();
      if (position != null) {
        serialAt.put(position, assembly.serial());
      }
    }
    return serialAt;
  }

  /** Serial numbers of several assemblies, by id. */
  public Map<Long, String> serials(List<Long> assemblyIds) {
    return assemblies.serials(assemblyIds);
  }

  /** Stores an order with its sets, positions and serial numbers, all or nothing. */
  @Transactional
  public WorkOrder create(OrderDraft draft) {
    new OrderChecks(catalog).order(draft);
    refuseTaken(draft);
    Double startMm = draft.specification().stretcherStartMm();
    long orderId = tables.insertOrder(draft, clock.instant(), Actor.name());
    draft.sets().forEach(set -> insertSet(orderId, set, draft.cableLot(), startMm));
    for (String serial : draft.poolSerials()) {
      assemblies.insert(orderId, null, serial, draft.cableLot(), startMm);
    }
    WorkOrder created = order(orderId);
    audit.record(
        "ORDER_CREATED",
        "work order",
        draft.number(),
        Map.of("title", draft.title(), "sets", draft.sets().size(), "revision", "A"),
        seal.seal(created));
    return created;
  }

  /** A set of assemblies that are made for it. */
  void insertSet(long orderId, SetDraft set, String cableLot, @Nullable Double stretcherStartMm) {
    List<Long> positionIds = tables.insertSet(orderId, set);
    for (int i = 0; i < positionIds.size(); i++) {
      String serial = set.positions().get(i).serial();
      assemblies.insert(orderId, positionIds.get(i), serial, cableLot, stretcherStartMm);
    }
  }

  /** Moves an assembly to a state; a person's hold on it ends. */
  @Transactional
  public Assembly move(Assembly assembly, AssemblyState state, String reason) {
    return move(assembly, state, reason, null);
  }

  /** Puts an assembly on hold until someone releases it. */
  @Transactional
  public Assembly hold(Assembly assembly, String reason) {
    new Checks().text("reason", reason, 500).done();
    refuseGone(assembly);
    refuseReleased(assembly);
    return move(assembly, AssemblyState.ON_HOLD, reason, Actor.name());
  }

  private Assembly move(
      Assembly assembly, AssemblyState state, String reason, @Nullable String heldBy) {
    require(assemblies.updateState(assembly, state, reason, heldBy), assembly);
    audit.record(
        "STATE_CHANGED",
        "assembly",
        assembly.serial(),
        Map.of("from", assembly.state().name(), "to", state.name(), "reason", reason));
    return assembly(assembly.id());
  }

  /** Notes a cut or a new stretcher reading that was really made. */
  @Transactional
  public Assembly adjusted(Assembly assembly, double cutMm, @Nullable Double settingMm) {
    require(assemblies.updateAdjustment(assembly, cutMm, settingMm), assembly);
    return assembly(assembly.id());
  }

  /** Fixes the target of a set, once its first adjustment is signed off. */
  @Transactional
  public void lockCenter(MatchedSet set, List<Double> centerDeg) {
    if (!set.lockedCenterDeg().isEmpty()) {
      throw new ConflictException(Sentence.of("order.targetFixed", set.name()));
    }
    require(tables.touchSet(set), set);
    tables.insertCenter(set.id(), centerDeg);
    audit.record(
        "TARGET_FIXED", "set", set.id() + " " + set.name(), Map.of("centerDeg", centerDeg));
  }

  /** Notes that every position of a set is in tolerance, or no longer is. */
  @Transactional
  public void setMatched(MatchedSet set, boolean matched) {
    if (matched == (set.matchedAt() != null)) {
      return;
    }
    require(tables.updateMatched(set, matched ? clock.instant() : null), set);
    audit.record(
        matched ? "SET_MATCHED" : "SET_UNMATCHED", "set", set.id() + " " + set.name(), Map.of());
  }

  /** Reads a set and keeps it from changing until the transaction ends: one planner at a time. */
  @Transactional
  public MatchedSet lockSet(long id) {
    tables.lockSet(id);
    return set(id);
  }

  /** Puts a new assembly at the position of one that cannot be brought in. */
  @Transactional
  public Assembly replace(Assembly old, String newSerial, String reason) {
    Long positionId = old.positionId();
    if (positionId == null) {
      throw new ConflictException(Sentence.of("order.noPosition", old.serial()));
    }
    new OrderChecks(catalog).replacement(newSerial, reason);
    refuseReleased(old);
    if (old.state() != AssemblyState.SCRAPPED) {
      move(old, AssemblyState.REPLACED, reason);
    }
    require(assemblies.takeOut(assembly(old.id())), old);
    Optional<Assembly> spare = findAssembly(newSerial);
    if (spare.isPresent()) {
      Assembly s = spare.get();
      if (s.workOrderId() != old.workOrderId() || s.positionId() != null || s.isGone()) {
        throw new ConflictException(Sentence.of("order.serialTaken", newSerial));
      }
      require(assemblies.putIn(s, positionId), s);
    } else {
      WorkOrder order = order(old.workOrderId());
      assemblies.insert(
          order.id(), positionId, newSerial, "", order.specification().stretcherStartMm());
    }
    tables.passOnMaster(old, newSerial);
    audit.record(
        "ASSEMBLY_REPLACED", "assembly", old.serial(), Map.of("by", newSerial, "reason", reason));
    return assemblyBySerial(newSerial);
  }

  /** Gives an assembly up; it stays at its position until another takes its place. */
  @Transactional
  public Assembly scrap(Assembly assembly, String reason) {
    refuseGone(assembly);
    refuseReleased(assembly);
    return move(assembly, AssemblyState.SCRAPPED, reason);
  }

  /**
   * Stores what QA decided for one assembly alone.
   *
   * @param settingMm reading of its stretcher now; null where none is fitted
   */
  @Transactional
  public Assembly setTerms(Assembly assembly, ReviewTerms terms, @Nullable Double settingMm) {
    refuseGone(assembly);
    refuseReleased(assembly);
    require(assemblies.updateTerms(assembly, terms, settingMm), assembly);
    return assembly(assembly.id());
  }

  /** Exchanges the positions of two assemblies of one order; the second may lie in its pool. */
  @Transactional
  public void swap(Assembly member, Assembly other) {
    Long position = member.positionId();
    if (position == null) {
      throw new ConflictException(Sentence.of("order.noPosition", member.serial()));
    }
    for (Assembly each : List.of(member, other)) {
      refuseGone(each);
      refuseReleased(each);
      refuseMaster(each);
    }
    if (member.workOrderId() != other.workOrderId() || position.equals(other.positionId())) {
      throw new ConflictException(Sentence.of("order.notForSwap", other.serial(), member.serial()));
    }
    Long otherPosition = other.positionId();
    Assembly first = withoutConcession(member);
    Assembly second = withoutConcession(other);
    require(
        otherPosition == null ? assemblies.takeOut(first) : assemblies.putIn(first, otherPosition),
        first);
    require(assemblies.putIn(second, position), second);
    audit.record("ASSEMBLIES_SWAPPED", "assembly", member.serial(), Map.of("with", other.serial()));
  }

  /** A concession holds for a position: elsewhere the same reading is another error. */
  Assembly withoutConcession(Assembly assembly) {
    return assembly.terms().concededReadingId() == null
        ? assembly
        : setTerms(
            assembly, assembly.terms().withConcededReading(null), assembly.stretcherSettingMm());
  }

  /** Moves the target of a set that was fixed before. */
  @Transactional
  public void moveCenter(MatchedSet set, List<Double> centerDeg) {
    if (set.releasedAt() != null) {
      throw new ConflictException(Sentence.of("order.setReleased", set.name()));
    }
    require(tables.touchSet(set), set);
    tables.deleteCenter(set.id());
    tables.insertCenter(set.id(), centerDeg);
    audit.record(
        "TARGET_MOVED",
        "set",
        set.id() + " " + set.name(),
        Map.of("fromDeg", set.lockedCenterDeg(), "toDeg", centerDeg));
  }

  /** Locks a matched set with its members. */
  @Transactional
  public void release(MatchedSet set) {
    if (set.releasedAt() != null) {
      throw new ConflictException(Sentence.of("order.setReleased", set.name()));
    }
    if (set.matchedAt() == null) {
      throw new ConflictException(Sentence.of("order.setNotMatched", set.name()));
    }
    require(tables.updateReleased(set, clock.instant()), set);
    members(set.id()).forEach(member -> move(member, AssemblyState.RELEASED, ""));
  }

  /** Opens a released set again; its members go by their plan from then on. */
  @Transactional
  public void withdrawRelease(MatchedSet set) {
    if (set.releasedAt() == null) {
      throw new ConflictException(Sentence.of("order.setNotReleased", set.name()));
    }
    require(tables.updateReleased(set, null), set);
    members(set.id()).forEach(member -> move(member, AssemblyState.MATCHED, ""));
  }

  /** Refuses to change an assembly of a released set. */
  public void refuseReleased(Assembly assembly) {
    if (assembly.state() == AssemblyState.RELEASED) {
      throw new ConflictException(Sentence.of("order.released", assembly.serial()));
    }
  }

  private static void refuseGone(Assembly assembly) {
    if (assembly.state() == AssemblyState.REPLACED) {
      throw new ConflictException(Sentence.of("order.replacedAlready", assembly.serial()));
    }
    if (assembly.state() == AssemblyState.SCRAPPED) {
      throw new ConflictException(Sentence.of("order.scrapped", assembly.serial()));
    }
  }

  /** The others are matched to the master: moved, it would take their target along. */
  private void refuseMaster(Assembly assembly) {
    Long setId = assembly.setId();
    if (setId != null && assembly.serial().equals(set(setId).masterSerial())) {
      throw new ConflictException(Sentence.of("order.masterStays", assembly.serial()));
    }
  }

  private void refuseTaken(OrderDraft draft) {
    Checks checks = new Checks();
    if (tables.orderByNumber(draft.number()).isPresent()) {
      checks.problem("number", Sentence.of("order.numberExists", draft.number()));
    }
    Map<String, String> fields = serialFields(draft.sets());
    for (int i = 0; i < draft.poolSerials().size(); i++) {
      fields.put(draft.poolSerials().get(i), "poolSerials[" + i + "]");
    }
    refuseTaken(checks, fields);
    checks.done();
  }

  /** The fields of sets that serial numbers are given in, by serial number. */
  static Map<String, String> serialFields(List<SetDraft> sets) {
    Map<String, String> fields = new LinkedHashMap<>();
    for (int i = 0; i < sets.size(); i++) {
      List<PositionDraft> positions = sets.get(i).positions();
      for (int p = 0; p < positions.size(); p++) {
        fields.put(positions.get(p).serial(), "sets[" + i + "].positions[" + p + "].serial");
      }
    }
    return fields;
  }

  void refuseTaken(Checks checks, Map<String, String> fields) {
    for (String taken : assemblies.existingSerials(List.copyOf(fields.keySet()))) {
      checks.problem(
          fields.getOrDefault(taken, "serial"), Sentence.of("order.serialExists", taken));
    }
  }

  boolean isMeasured(long orderId) {
    return assembliesOf(orderId).stream()
        .anyMatch(a -> a.state() != AssemblyState.AWAITING_READING);
  }

  private static void require(boolean updated, Assembly assembly) {
    if (!updated) {
      throw new ConflictException(Sentence.of("order.assemblyChanged", assembly.serial()));
    }
  }

  private static void require(boolean updated, MatchedSet set) {
    if (!updated) {
      throw new ConflictException(Sentence.of("order.setChanged", set.name()));
    }
  }

  /** Makes sets out of assemblies that lie in an order's pool, all or nothing. */
  @Transactional
  public List<MatchedSet> addSets(WorkOrder order, List<SetDraft> sets) {
    Set<String> names =
        setsOf(order.id()).stream().map(MatchedSet::name).collect(Collectors.toSet());
    new OrderChecks(catalog).added(order.specification().basis(), sets, names);
    Set<Long> before = setsOf(order.id()).stream().map(MatchedSet::id).collect(Collectors.toSet());
    for (SetDraft set : sets) {
      List<Long> positionIds = tables.insertSet(order.id(), set);
      for (int i = 0; i < positionIds.size(); i++) {
        Assembly spare = pooled(order, set.positions().get(i).serial());
        require(assemblies.putIn(withoutConcession(spare), positionIds.get(i)), spare);
      }
    }
    audit.record(
        "SETS_ADDED",
        "work order",
        order.number(),
        Map.of("sets", sets.stream().map(WorkOrders::told).toList()),
        seal.seal(order));
    return setsOf(order.id()).stream().filter(s -> !before.contains(s.id())).toList();
  }

  private static Map<String, Object> told(SetDraft set) {
    return Map.of(
        "name",
        set.name(),
        "members",
        set.positions().stream().map(PositionDraft::serial).toList());
  }

  private Assembly pooled(WorkOrder order, String serial) {
    Assembly spare = assemblyBySerial(serial);
    refuseGone(spare);
    refuseReleased(spare);
    if (spare.workOrderId() != order.id() || spare.positionId() != null) {
      throw new ConflictException(Sentence.of("order.notInPool", serial, order.number()));
    }
    return spare;
  }

  /**
   * Has the members of a set that was not worked on yet exchange their positions.
   *
   * @param members all of them, in the order of the positions
   */
  @Transactional
  public void arrange(MatchedSet set, List<Assembly> members) {
    if (set.releasedAt() != null) {
      throw new ConflictException(Sentence.of("order.setReleased", set.name()));
    }
    if (isWorkedOn(set, members)) {
      throw new ConflictException(Sentence.of("order.setWorkedOn", set.name()));
    }
    List<Long> now = members(set.id()).stream().map(Assembly::id).sorted().toList();
    if (!members.stream().map(Assembly::id).sorted().toList().equals(now)
        || members.size() != set.positions().size()) {
      throw new ConflictException(Sentence.of("order.setChanged", set.name()));
    }
    require(tables.touchSet(set), set);
    for (int i = 0; i < members.size(); i++) {
      Assembly member = members.get(i);
      long positionId = set.positions().get(i).id();
      if (!Long.valueOf(positionId).equals(member.positionId())) {
        refuseMaster(member);
        refuseGone(member);
        require(assemblies.putIn(withoutConcession(member), positionId), member);
      }
    }
    audit.record(
        "POSITIONS_EXCHANGED",
        "set",
        set.id() + " " + set.name(),
        Map.of("members", members.stream().map(Assembly::serial).toList()));
  }

  /** Whether a cut was made in a set, or its target fixed. */
  static boolean isWorkedOn(MatchedSet set, List<Assembly> members) {
    return !set.lockedCenterDeg().isEmpty() || members.stream().anyMatch(a -> a.trimmedMm() > 0);
  }

  /** The revision that an assembly is made to now. */
  public String presentRevision(String serial) {
    return order(assemblyBySerial(serial).workOrderId()).revision();
  }

  /** What is wrong with an order, without storing it; empty where it could be created. */
  @Transactional(readOnly = true)
  public List<FieldProblem> problems(OrderDraft draft) {
    return problemsOf(() -> new OrderChecks(catalog).order(draft), () -> refuseTaken(draft));
  }

  static List<FieldProblem> problemsOf(Runnable... checks) {
    Checks all = new Checks();
    for (Runnable each : checks) {
      all.part(
          () -> {
            each.run();
            return null;
          });
    }
    return all.found();
  }

  /** The first cut of an order's assemblies that stand at a position; null for the pool. */
  @Transactional(readOnly = true)
  public FirstCut firstCut(WorkOrder order, @Nullable SetPosition position) {
    Specification specification = order.specification();
    Long stretcherId = specification.lineStretcherId();
    return FirstCuts.of(
        specification,
        catalog.cableType(specification.cableTypeId()),
        stretcherId == null ? null : catalog.lineStretcher(stretcherId),
        position);
  }

  /** The cable that the first cuts of an order take, for every assembly still in its work. */
  @Transactional(readOnly = true)
  public CableNeed cableNeed(WorkOrder order, double kerfMm, double wastePercent) {
    new Checks()
        .inRange("kerfMm", kerfMm, 0, 100)
        .inRange("wastePercent", wastePercent, 0, 500)
        .done();
    Map<Long, SetPosition> positions = new HashMap<>();
    setsOf(order.id()).forEach(set -> set.positions().forEach(p -> positions.put(p.id(), p)));
    List<FirstCut> cuts = new ArrayList<>();
    for (Assembly assembly : assembliesOf(order.id())) {
      if (!assembly.isGone()) {
        Long position = assembly.positionId();
        cuts.add(firstCut(order, position == null ? null : positions.get(position)));
      }
    }
    return CableNeed.of(cuts, kerfMm, wastePercent);
  }
}
