package org.equiphase.traveler;

import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.catalog.Catalog;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
import org.equiphase.rf.FirstCut;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.traveler.SheetData.AssemblySheet;
import org.equiphase.traveler.SheetData.Heading;
import org.equiphase.traveler.SheetData.SetSheet;
import org.equiphase.traveler.SheetData.Spot;
import org.equiphase.traveler.SheetData.Task;
import org.equiphase.traveler.SheetData.Task.Kind;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.ScanCode;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Isolation;
import org.springframework.transaction.annotation.Transactional;

/** Gathers what the sheets show. */
@Service
@Transactional(readOnly = true, isolation = Isolation.REPEATABLE_READ)
class Sheets {

  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Adjustments adjustments;
  private final Readings readings;
  private final Routes routes;
  private final Steps steps;
  private final Format format = Format.PLAIN;
  private final Clock clock;

  Sheets(
      WorkOrders workOrders,
      Catalog catalog,
      Adjustments adjustments,
      Readings readings,
      Routes routes,
      Steps steps,
      Clock clock) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.adjustments = adjustments;
    this.readings = readings;
    this.routes = routes;
    this.steps = steps;
    this.clock = clock;
  }

  /** A set and its members. */
  SheetData set(long setId) {
    SetSheet set = sheet(adjustments.plan(setId));
    return new SheetData(
        heading(workOrders.order(set.set().workOrderId())), List.of(set), List.of());
  }

  /** One assembly, in a set or in the pool. */
  SheetData assembly(String serial) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    WorkOrder order = workOrders.order(assembly.workOrderId());
    Long setId = assembly.setId();
    AssemblySheet sheet;
    if (setId == null) {
      sheet = loose(onRoute(order, List.of(assembly)), assembly);
    } else {
      SetPlan plan = adjustments.plan(setId);
      sheet = member(onRoute(order, List.of(assembly)), plan, plan.member(assembly.id()));
    }
    return new SheetData(heading(order), List.of(), List.of(sheet));
  }

  /** All sets of an order and its pool; replaced assemblies get no sheet. */
  SheetData order(String number) {
    WorkOrder order = workOrders.orderByNumber(number);
    List<SetSheet> sets =
        workOrders.setsOf(order.id()).stream()
            .map(set -> sheet(adjustments.plan(set.id())))
            .toList();
    List<Assembly> inPool =
        workOrders.assembliesOf(order.id()).stream()
            .filter(a -> a.setId() == null && !a.isGone())
            .toList();
    OnRoute onRoute = onRoute(order, inPool);
    List<AssemblySheet> pool = inPool.stream().map(a -> loose(onRoute, a)).toList();
    return new SheetData(heading(order), sets, pool);
  }

  /**
   * An order's route, and what is signed off of it.
   *
   * @param done by assembly, then by number of the step
   */
  private record OnRoute(WorkOrder order, Route route, Map<Long, Map<Long, Steps.Done>> done) {

    ScanCode code(Assembly assembly) {
      return ScanCode.ofSheet(assembly.serial(), order.revision());
    }
  }

  private OnRoute onRoute(WorkOrder order, List<Assembly> assemblies) {
    return new OnRoute(
        order,
        routes.ofOrder(order.id()).route(),
        steps.done(assemblies.stream().map(Assembly::id).toList()).stream()
            .collect(
                Collectors.groupingBy(
                    Steps.Done::assemblyId,
                    Collectors.toMap(done -> done.step().number(), done -> done))));
  }

  private Heading heading(WorkOrder order) {
    Specification s = order.specification();
    Long stretcherId = s.lineStretcherId();
    return new Heading(
        order,
        catalog.cableType(s.cableTypeId()),
        stretcherId == null ? null : catalog.lineStretcher(stretcherId),
        Sentence.of(
            switch (s.method()) {
              case TRANSMISSION -> "traveler.transmission";
              case REFLECTION_SHORT -> "traveler.reflectionShort";
              case REFLECTION_OPEN -> "traveler.reflectionOpen";
            }),
        s.decisionRule() == DecisionRule.SIMPLE
            ? Sentence.of("traveler.simpleAcceptance")
            : Sentence.of("traveler.guardBand", format.plain(s.guardFactor())),
        clock.instant(),
        new StepWords(s, format).cautions(routes.ofOrder(order.id()).route()));
  }

  private SetSheet sheet(SetPlan plan) {
    OnRoute onRoute =
        onRoute(plan.order(), plan.members().stream().map(MemberPlan::assembly).toList());
    return new SetSheet(
        plan.set(),
        plan.waitingFor(),
        plan.members().stream().map(member -> member(onRoute, plan, member)).toList(),
        true);
  }

  private AssemblySheet member(OnRoute onRoute, SetPlan plan, MemberPlan member) {
    Specification specification = plan.order().specification();
    Task task = task(member);
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      Double measuredDeg = measuredDeg(member.reading(), k);
      if (member.spots().isEmpty() || measuredDeg == null) {
        spots.add(unplanned(specification.frequencies().get(k), measuredDeg));
      } else {
        SpotPlan p = member.spots().get(k);
        spots.add(
            new Spot(
                p.frequencyHz(),
                p.toleranceDeg(),
                p.acceptanceDeg(),
                p.targetPhaseDeg(),
                p.sum().phaseDeg(),
                p.errorDeg(),
                p.sum().phaseDeg() + p.predictedErrorDeg() - p.errorDeg(),
                p.predictedErrorDeg()));
      }
    }
    return new AssemblySheet(
        member.assembly(),
        onRoute.code(member.assembly()),
        plan.set(),
        member.position(),
        task,
        member.reading(),
        spots,
        steps(onRoute, member.assembly(), member.position(), task));
  }

  private List<SheetData.Step> steps(
      OnRoute onRoute, Assembly assembly, @Nullable SetPosition position, Task task) {
    return new StepWords(onRoute.order().specification(), format)
        .steps(
            onRoute.route(),
            task,
            firstCut(onRoute.order(), position),
            onRoute.code(assembly),
            onRoute.done().getOrDefault(assembly.id(), Map.of()));
  }

  private @Nullable FirstCut firstCut(WorkOrder order, @Nullable SetPosition position) {
    try {
      return workOrders.firstCut(order, position);
    } catch (InvalidQuantityException e) {
      return null; // An offset or the connectors leave no length to the cable.
    }
  }

  /** An assembly without a position. */
  private AssemblySheet loose(OnRoute onRoute, Assembly assembly) {
    Specification specification = onRoute.order().specification();
    Reading reading = readings.latest(assembly.id()).orElse(null);
    Task task =
        assembly.isGone()
            ? task(Kind.REPLACED, goneKey(assembly), assembly.stateReason())
            : assembly.state() == AssemblyState.ON_HOLD
                ? task(Kind.HOLD, "traveler.task.hold", assembly.stateReason())
                : reading == null
                    ? task(
                        Kind.MEASURE, "traveler.task.measure", Sentence.of("traveler.task.unread"))
                    : task(
                        Kind.NONE, "traveler.task.inPool", Sentence.of("traveler.task.noPosition"));
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      spots.add(unplanned(specification.frequencies().get(k), measuredDeg(reading, k)));
    }
    return new AssemblySheet(
        assembly,
        onRoute.code(assembly),
        null,
        null,
        task,
        reading,
        spots,
        steps(onRoute, assembly, null, task));
  }

  /** In one piece, also in a narrow column. */
  private String percent(@Nullable Double probability) {
    return format.percent(probability).replace(' ', '\u00a0');
  }

  private static String goneKey(Assembly assembly) {
    return assembly.state() == AssemblyState.SCRAPPED
        ? "traveler.task.scrapped"
        : "traveler.task.replaced";
  }

  private static @Nullable Double measuredDeg(@Nullable Reading reading, int k) {
    return reading == null ? null : reading.spots().get(k).phaseDeg();
  }

  private static Spot unplanned(FrequencySpecification f, @Nullable Double measuredDeg) {
    return new Spot(f.frequencyHz(), f.toleranceDeg(), null, null, measuredDeg, null, null, null);
  }

  private Task task(MemberPlan member) {
    return switch (member.verdict()) {
      case UNREAD -> task(Kind.MEASURE, "traveler.task.measure", member.reason());
      case WAITING -> task(Kind.WAIT, "traveler.task.waitForSet", member.reason());
      case IN_TOLERANCE ->
          new Task(
              Kind.NONE,
              Sentence.of("traveler.task.inTolerance", percent(member.probabilityIn())),
              member.reason(),
              null,
              null,
              null);
      case CHECK_REFERENCE -> task(Kind.WAIT, "traveler.task.waitForCheck", member.reason());
      case MEASURE_AGAIN -> measureAgain(member);
      case CONCEDED -> task(Kind.NONE, "traveler.task.conceded", member.reason());
      case SCRAPPED -> task(Kind.REPLACED, "traveler.task.scrapped", member.reason());
      case OUT, HELD -> task(Kind.HOLD, "traveler.task.hold", member.reason());
      case ADJUST -> adjust(member);
    };
  }

  private static Task task(Kind kind, String key, Object reason) {
    return new Task(kind, Sentence.of(key), reason, null, null, null);
  }

  private Task measureAgain(MemberPlan member) {
    Instruction.Done done = Objects.requireNonNull(Objects.requireNonNull(member.current()).done());
    Sentence what =
        done.trimMm() != null
            ? Sentence.of(
                "traveler.task.cutDone", length(done.trimMm()), done.by(), format.time(done.at()))
            : Sentence.of(
                "traveler.task.setDone",
                format.plain(done.settingMm()),
                done.by(),
                format.time(done.at()));
    return new Task(
        Kind.MEASURE_AGAIN,
        Sentence.of("traveler.task.measureAgain"),
        what,
        member.current().id(),
        null,
        null);
  }

  /**
   * A cut or a setting is printed only while the issued instruction is still what the plan asks.
   */
  private Task adjust(MemberPlan member) {
    Instruction issued = member.asked();
    if (issued == null) {
      return task(Kind.HOLD, "traveler.task.hold", Sentence.of("traveler.task.planChanged"));
    }
    return issued.action() == Instruction.Action.TRIM
        ? new Task(
            Kind.CUT,
            Sentence.of("traveler.task.cut", length(issued.trimMm())),
            reason(member, issued),
            issued.id(),
            issued.trimMm(),
            null)
        : new Task(
            Kind.SET,
            Sentence.of("traveler.task.set", format.plain(issued.settingMm())),
            reason(member, issued),
            issued.id(),
            null,
            issued.settingMm());
  }

  private Object reason(MemberPlan member, Instruction issued) {
    Instruction.Chance chance = issued.chance();
    return chance == null
        ? member.reason()
        : Sentence.of(
            "traveler.task.promise", member.reason(), format.percent(chance.probabilityIn()));
  }

  private Sentence length(@Nullable Double millimetres) {
    return Sentence.of(
        "traveler.task.length", format.plain(millimetres), format.inches(millimetres));
  }
}
