package org.equiphase.adjustment;

import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Instruction.Action;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.audit.Actor;
import org.equiphase.audit.AuditLog;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Basis;
import org.equiphase.measurement.DriftChanged;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingChanged;
import org.equiphase.measurement.Readings;
import org.equiphase.rf.LineStretcher;
import org.equiphase.web.Checks;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.OrderChanged;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.context.event.EventListener;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/**
 * Plans sets, issues the instructions that follow, and takes their sign-off. An instruction names
 * its reading and can't be signed off once a newer reading exists.
 */
@Service
public class Adjustments {

  private final SetPlanner planner;
  private final InstructionTables tables;
  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Readings readings;
  private final AuditLog audit;
  private final ApplicationEventPublisher events;
  private final Clock clock;

  Adjustments(
      SetPlanner planner,
      InstructionTables tables,
      WorkOrders workOrders,
      Catalog catalog,
      Readings readings,
      AuditLog audit,
      ApplicationEventPublisher events,
      Clock clock) {
    this.planner = planner;
    this.tables = tables;
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
    this.audit = audit;
    this.events = events;
    this.clock = clock;
  }

  /** The set as it stands. */
  @Transactional(readOnly = true)
  public SetPlan plan(long setId) {
    return planner.plan(workOrders.set(setId));
  }

  /** The plan as if a set stood thus, with these members; nothing of it is stored. */
  @Transactional(readOnly = true)
  public SetPlan planAs(MatchedSet set, List<Assembly> members) {
    return planner.planAs(set, members);
  }

  public Instruction instruction(long id) {
    return tables.instruction(id).orElseThrow(() -> new NotFoundException("instruction", "" + id));
  }

  /** All instructions ever issued for an assembly, the newest first. */
  public List<Instruction> history(long assemblyId) {
    return tables.history(assemblyId);
  }

  /** The lot whose cuts tell an assembly's velocity factor: its cable's, or else its order. */
  public static String lot(WorkOrder order, Assembly assembly) {
    return SetVelocities.lot(order, assembly);
  }

  /** Plans the set of an assembly again after its readings have changed. */
  @EventListener
  @Transactional
  public void on(ReadingChanged event) {
    Assembly assembly = workOrders.assembly(event.assemblyId());
    Long setId = assembly.setId();
    if (setId != null) {
      planAgain(setId);
    } else {
      leftSet(assembly.id());
    }
  }

  /** Plans the sets again whose readings a reference check has shed new light on. */
  @EventListener
  @Transactional
  public void on(DriftChanged event) {
    // In the order of their ids, so that two checks at once don't lock each other out.
    event.assemblyIds().stream()
        .map(id -> workOrders.assembly(id).setId())
        .filter(Objects::nonNull)
        .distinct()
        .sorted()
        .forEach(this::planAgain);
  }

  /** A revised order makes its instructions anew: what was asked for before is asked no more. */
  @EventListener
  @Transactional
  public void on(OrderChanged event) {
    if (!event.revised()) {
      return;
    }
    List<Assembly> assemblies = workOrders.assembliesOf(event.orderId());
    tables.supersedeIssued(assemblies.stream().map(Assembly::id).toList());
    // A set that nothing was read of has nothing to be planned.
    assemblies.stream()
        .filter(assembly -> assembly.state() != AssemblyState.AWAITING_READING)
        .map(Assembly::setId)
        .filter(Objects::nonNull)
        .distinct()
        .sorted()
        .forEach(this::planAgain);
  }

  /** Plans a set again, issues what is new, and moves its members to where they now stand. */
  @Transactional
  public void planAgain(long setId) {
    MatchedSet set = workOrders.lockSet(setId);
    if (set.releasedAt() != null) {
      events.publishEvent(new SetPlanned(planner.plan(set)));
      return;
    }
    SetPlan plan = planner.learnAndPlan(set);
    boolean matched = plan.matched();
    issue(plan.members());
    for (MemberPlan member : plan.members()) {
      AssemblyState state = state(member, matched);
      if (state != member.assembly().state() || moved(member, state)) {
        workOrders.move(
            member.assembly(),
            state,
            state == AssemblyState.ON_HOLD ? member.reason().toString() : "");
      }
    }
    workOrders.setMatched(set, matched);
    events.publishEvent(new SetPlanned(plan));
  }

  /** Takes back what was asked of an assembly that has left its set, and says where it stands. */
  @Transactional
  public void leftSet(long assemblyId) {
    tables.supersedeIssued(List.of(assemblyId));
    Assembly assembly = workOrders.assembly(assemblyId);
    if (!assembly.isGone()) {
      boolean read = readings.latest(assemblyId).isPresent();
      workOrders.move(assembly, read ? AssemblyState.MEASURED : AssemblyState.AWAITING_READING, "");
    }
  }

  /**
   * Signs off an instruction with what was really cut or set.
   *
   * @param doneAt when it was done, where it is told later; null for now
   */
  @Transactional
  public Instruction signOff(
      long instructionId,
      int version,
      @Nullable Double doneTrimMm,
      @Nullable Double doneSettingMm,
      String note,
      @Nullable Instant doneAt) {
    SignOff signOff = new SignOff(instructionId, version, doneTrimMm, doneSettingMm, note, doneAt);
    planAgain(takeSignOff(signOff));
    return instruction(instructionId);
  }

  /**
   * What was really cut or set.
   *
   * @param doneAt when it was done, where it is told later; null for now
   */
  public record SignOff(
      long instructionId,
      int version,
      @Nullable Double doneTrimMm,
      @Nullable Double doneSettingMm,
      String note,
      @Nullable Instant doneAt) {}

  /**
   * Signs off work done by instructions of one moment, all or nothing. Only then are the sets
   * planned again, so that one sign-off does not make the next one stale.
   */
  @Transactional
  public void signOffAll(List<SignOff> signOffs) {
    // In the order of their ids, so that two callers don't lock each other out.
    signOffs.stream()
        .map(s -> workOrders.assembly(instruction(s.instructionId()).assemblyId()).setId())
        .filter(Objects::nonNull)
        .distinct()
        .sorted()
        .forEach(workOrders::lockSet);
    signOffs.stream().map(this::takeSignOff).distinct().sorted().toList().forEach(this::planAgain);
  }

  /** Refuses what {@link #signOffAll} would refuse now; stores nothing. */
  @Transactional(readOnly = true)
  public void checkSignOff(SignOff signOff) {
    Instruction instruction = instruction(signOff.instructionId());
    Assembly assembly = workOrders.assembly(instruction.assemblyId());
    if (assembly.setId() == null) {
      throw new ConflictException(Sentence.of("instruction.stale", assembly.serial()));
    }
    workOrders.refuseReleased(assembly);
    refuseStale(instruction, assembly);
    if (instruction.version() != signOff.version()) {
      throw new ConflictException(Sentence.of("instruction.changed", assembly.serial()));
    }
    check(instruction, assembly, signOff.doneTrimMm(), signOff.doneSettingMm(), signOff.note());
    checkTime(instruction, Objects.requireNonNullElseGet(signOff.doneAt(), clock::instant));
  }

  /** Stores a sign-off; answers with the set, which is to be planned again. */
  private long takeSignOff(SignOff signOff) {
    Instruction instruction = instruction(signOff.instructionId());
    Assembly assembly = workOrders.assembly(instruction.assemblyId());
    Long setId = assembly.setId();
    if (setId == null) {
      throw new ConflictException(Sentence.of("instruction.stale", assembly.serial()));
    }
    MatchedSet set = workOrders.lockSet(setId);
    checkSignOff(signOff);
    // As fine as the database keeps it, so that the seal fits what is read from there.
    Instant at =
        Objects.requireNonNullElseGet(signOff.doneAt(), clock::instant)
            .truncatedTo(ChronoUnit.MICROS);
    lockCenter(set);
    Double doneTrimMm = signOff.doneTrimMm();
    Double doneSettingMm = signOff.doneSettingMm();
    Instruction.Done done =
        new Instruction.Done(at, Actor.name(), doneTrimMm, doneSettingMm, signOff.note());
    if (!tables.done(instruction.id(), signOff.version(), done)) {
      throw new ConflictException(Sentence.of("instruction.changed", assembly.serial()));
    }
    Assembly adjusted =
        workOrders.adjusted(assembly, doneTrimMm == null ? 0 : doneTrimMm, doneSettingMm);
    audit.record(
        "SIGNED_OFF",
        "assembly",
        assembly.serial(),
        details(instruction, doneTrimMm, doneSettingMm),
        SignOffSeal.seal(instruction, done));
    workOrders.move(adjusted, AssemblyState.ADJUSTED, "");
    return setId;
  }

  private void issue(List<MemberPlan> members) {
    List<MemberPlan> changed = members.stream().filter(member -> !stands(member)).toList();
    tables.supersedeIssued(changed.stream().map(member -> member.assembly().id()).toList());
    for (MemberPlan member : changed) {
      Instruction proposed = member.proposed();
      if (proposed != null) {
        long id = tables.insert(proposed);
        audit.record(
            "INSTRUCTION_ISSUED",
            "assembly",
            member.assembly().serial(),
            details(instruction(id), null, null));
      }
    }
  }

  /** Whether what is asked of a member already is what the plan asks. */
  private static boolean stands(MemberPlan member) {
    Instruction proposed = member.proposed();
    Instruction current = member.current();
    return proposed != null
        && current != null
        && current.state() == Instruction.State.ISSUED
        && current.sameWork(proposed);
  }

  private static AssemblyState state(MemberPlan member, boolean matched) {
    return switch (member.verdict()) {
      case UNREAD -> AssemblyState.AWAITING_READING;
      case WAITING, CHECK_REFERENCE -> AssemblyState.MEASURED;
      case IN_TOLERANCE -> matched ? AssemblyState.MATCHED : AssemblyState.IN_TOLERANCE;
      case ADJUST -> AssemblyState.INSTRUCTED;
      case MEASURE_AGAIN -> AssemblyState.ADJUSTED;
      case CONCEDED -> AssemblyState.CONCEDED;
      case OUT, HELD -> AssemblyState.ON_HOLD;
      case SCRAPPED -> AssemblyState.SCRAPPED;
    };
  }

  private static boolean moved(MemberPlan member, AssemblyState state) {
    return state == AssemblyState.ON_HOLD
        && !member.reason().toString().equals(member.assembly().stateReason());
  }

  private void refuseStale(Instruction instruction, Assembly assembly) {
    Optional<Reading> latest = readings.latest(assembly.id());
    boolean newer = latest.map(r -> r.id() != instruction.readingId()).orElse(true);
    if (instruction.state() == Instruction.State.SUPERSEDED || newer) {
      throw new ConflictException(Sentence.of("instruction.stale", assembly.serial()));
    }
    if (instruction.state() == Instruction.State.DONE) {
      throw new ConflictException(Sentence.of("instruction.done", assembly.serial()));
    }
  }

  private void check(
      Instruction instruction,
      Assembly assembly,
      @Nullable Double doneTrimMm,
      @Nullable Double doneSettingMm,
      String note) {
    Checks checks = new Checks();
    Specification specification = workOrders.order(assembly.workOrderId()).specification();
    if (note.length() > 500) {
      checks.problem("note", Sentence.of("instruction.noteTooLong", note.length()));
    }
    if (instruction.action() == Action.HOLD) {
      checks.problem("action", Sentence.of("instruction.isHold"));
    }
    if (instruction.action() == Action.TRIM) {
      if (doneTrimMm == null) {
        checks.problem("doneTrimMm", Sentence.of("instruction.trimMissing"));
      } else {
        checks.positive("doneTrimMm", doneTrimMm, specification.nominalLengthMm());
      }
      if (doneSettingMm != null) {
        checks.problem("doneSettingMm", Sentence.of("instruction.settingNotAsked"));
      }
    }
    if (instruction.action() == Action.STRETCH) {
      if (doneSettingMm == null) {
        checks.problem("doneSettingMm", Sentence.of("instruction.settingMissing"));
      } else {
        LineStretcher stretcher =
            catalog
                .lineStretcher(Objects.requireNonNull(assembly.lineStretcherId(specification)))
                .toRf();
        checks.inRange(
            "doneSettingMm",
            doneSettingMm,
            stretcher.lowestSettingMm(),
            stretcher.highestSettingMm());
      }
      if (doneTrimMm != null) {
        checks.problem("doneTrimMm", Sentence.of("instruction.trimNotAsked"));
      }
    }
    checks.done();
  }

  /** Work on a reading is done after it was taken, and not in the future. */
  private void checkTime(Instruction instruction, Instant doneAt) {
    Instant takenAt = readings.reading(instruction.readingId()).takenAt();
    if (doneAt.isBefore(takenAt) || doneAt.isAfter(clock.instant().plus(Readings.CLOCK_SKEW))) {
      throw InvalidInputException.of(
          "doneAt", Sentence.of("instruction.doneAt", doneAt.toString(), takenAt.toString()));
    }
  }

  /** From the first adjustment on the target stays, so that no cut is made for nothing. */
  private void lockCenter(MatchedSet set) {
    Specification specification = workOrders.order(set.workOrderId()).specification();
    if (specification.basis() == Basis.SET && set.lockedCenterDeg().isEmpty()) {
      SetPlan plan = planner.plan(set);
      workOrders.lockCenter(set, plan.centerDeg());
    }
  }

  private static Map<String, Object> details(
      Instruction instruction, @Nullable Double doneTrimMm, @Nullable Double doneSettingMm) {
    Map<String, Object> details = new LinkedHashMap<>();
    details.put("instruction", instruction.id());
    details.put("reading", instruction.readingId());
    details.put("action", instruction.action().name());
    if (instruction.action() == Action.TRIM) {
      details.put("trimMm", instruction.trimMm());
      Instruction.Chance chance = instruction.chance();
      if (chance != null) {
        details.put("probabilityIn", chance.probabilityIn());
        details.put("staged", chance.staged());
      }
    }
    if (instruction.settingMm() != null) {
      details.put("settingMm", instruction.settingMm());
    }
    if (doneTrimMm != null) {
      details.put("doneTrimMm", doneTrimMm);
    }
    if (doneSettingMm != null) {
      details.put("doneSettingMm", doneSettingMm);
    }
    return details;
  }
}
