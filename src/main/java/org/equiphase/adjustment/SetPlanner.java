package org.equiphase.adjustment;

import java.time.Clock;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Velocity;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Basis;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrifts;
import org.equiphase.measurement.Readings;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Turns the readings of a set into a plan; reads much and stores nothing. */
@Component
class SetPlanner {

  private final WorkOrders workOrders;
  private final Catalog catalog;
  private final Readings readings;
  private final ReferenceChecks referenceChecks;
  private final InstructionTables instructions;
  private final SetVelocities velocities;
  private final Clock clock;

  SetPlanner(
      WorkOrders workOrders,
      Catalog catalog,
      Readings readings,
      ReferenceChecks referenceChecks,
      InstructionTables instructions,
      SetVelocities velocities,
      Clock clock) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
    this.referenceChecks = referenceChecks;
    this.instructions = instructions;
    this.velocities = velocities;
    this.clock = clock;
  }

  /** What a set is planned from, besides its readings. */
  private record Inputs(
      MatchedSet set, WorkOrder order, CableType cable, List<Assembly> assemblies) {}

  /** The plan with the velocity factor as learned last. */
  SetPlan plan(MatchedSet set) {
    return plan(inputs(set));
  }

  /** Learns the velocity factor from what was cut since, and plans with it. */
  SetPlan learnAndPlan(MatchedSet set) {
    Inputs inputs = inputs(set);
    velocities.learn(set, inputs.order, inputs.cable, inputs.assemblies);
    return plan(inputs);
  }

  /** The plan as if the set stood thus, with these members. */
  SetPlan planAs(MatchedSet set, List<Assembly> members) {
    return plan(inputs(set, members));
  }

  private Inputs inputs(MatchedSet set) {
    return inputs(set, workOrders.members(set.id()));
  }

  private Inputs inputs(MatchedSet set, List<Assembly> members) {
    WorkOrder order = workOrders.order(set.workOrderId());
    return new Inputs(set, order, catalog.cableType(order.specification().cableTypeId()), members);
  }

  /**
   * Everything that is known of a set before it is solved.
   *
   * @param limits empty while no member can be used
   */
  record Ground(
      MatchedSet set,
      WorkOrder order,
      CableType cable,
      Velocity velocity,
      Adjuster adjuster,
      List<MemberSituation> situations,
      Map<Long, ErrorUncertainty> uncertainties,
      List<FrequencyLimit> limits) {

    List<Usable> usable() {
      return situations.stream().map(MemberSituation::usable).filter(Objects::nonNull).toList();
    }

    List<Usable> open() {
      return usable().stream().filter(Usable::open).toList();
    }

    List<String> waitingFor() {
      return SetPlanner.waitingFor(set, order.specification(), situations);
    }

    /** The problem of members that are open. */
    SetProblem problem(List<Usable> open) {
      return SetPlanner.problem(set, order.specification(), limits, open, adjuster);
    }
  }

  Ground ground(MatchedSet set) {
    return ground(inputs(set));
  }

  private Ground ground(Inputs inputs) {
    Specification specification = inputs.order.specification();
    Velocity velocity = velocities.of(inputs.set, inputs.order, inputs.cable, inputs.assemblies);
    Adjuster adjuster =
        new Adjuster(
            specification,
            inputs.cable,
            velocity.estimate(),
            Stretchers.of(specification, inputs.assemblies, catalog));
    List<MemberSituation> situations =
        LossAgreement.judged(
            specification, situations(inputs.set, inputs.order, inputs.assemblies, adjuster));
    List<Usable> usable =
        situations.stream().map(MemberSituation::usable).filter(Objects::nonNull).toList();
    Map<Long, ErrorUncertainty> uncertainties = uncertainties(inputs.set, specification, usable);
    return new Ground(
        inputs.set,
        inputs.order,
        inputs.cable,
        velocity,
        adjuster,
        situations,
        uncertainties,
        limits(specification, uncertainties.values()));
  }

  private SetPlan plan(Inputs inputs) {
    Ground ground = ground(inputs);
    MatchedSet set = inputs.set;
    WorkOrder order = inputs.order;
    Specification specification = order.specification();
    CableType cable = inputs.cable;
    Adjuster adjuster = ground.adjuster;
    List<MemberSituation> situations = ground.situations;
    List<String> waitingFor = ground.waitingFor();
    if (!waitingFor.isEmpty()) {
      return waitingPlan(order, cable, set, waitingFor, ground.velocity, situations);
    }
    List<Usable> usable = ground.usable();
    Map<Long, ErrorUncertainty> uncertainties = ground.uncertainties;
    List<Usable> open = ground.open();
    List<FrequencyLimit> limits = ground.limits;
    Optional<SetSolution> solution =
        open.isEmpty() ? Optional.empty() : Optional.of(SetSolver.solve(ground.problem(open)));
    Map<String, org.equiphase.matching.MemberPlan> planned = new HashMap<>();
    solution.ifPresent(s -> s.assemblies().forEach(m -> planned.put(m.serial(), m)));
    List<Double> centerDeg = center(set, specification, usable, solution.orElse(null));

    MemberPlanner planner =
        new MemberPlanner(adjuster, limits, centerDeg, cable.id(), order, clock.instant());
    List<MemberPlan> members = new ArrayList<>();
    for (MemberSituation s : situations) {
      Usable u = s.usable();
      members.add(
          u == null
              ? MemberPlanner.without(s, s.verdict(), s.reason())
              : planner.plan(
                  s,
                  u,
                  Objects.requireNonNull(uncertainties.get(u.assembly().id())),
                  planned.get(u.assembly().serial())));
    }
    return new SetPlan(
        order,
        cable,
        set,
        List.of(),
        centerDeg,
        !set.lockedCenterDeg().isEmpty(),
        solution.map(SetSolution::proven).orElse(true),
        ground.velocity,
        LossAgreement.spreads(specification, cable, members),
        TemperatureDrift.of(specification, cable, usable),
        members);
  }

  private List<MemberSituation> situations(
      MatchedSet set, WorkOrder order, List<Assembly> assemblies, Adjuster adjuster) {
    Map<Long, Assembly> byPosition = new HashMap<>();
    assemblies.forEach(a -> byPosition.put(Objects.requireNonNull(a.positionId()), a));
    Placing placing = placing(order, assemblies, adjuster);
    List<MemberSituation> situations = new ArrayList<>();
    for (SetPosition position : set.positions()) {
      Assembly assembly = byPosition.get(position.id());
      if (assembly != null) {
        situations.add(placing.at(position, assembly));
      }
    }
    return situations;
  }

  /** Tells how assemblies stand at positions, their own or others. */
  interface Placing {
    MemberSituation at(SetPosition position, Assembly assembly);
  }

  Placing placing(WorkOrder order, List<Assembly> assemblies, Adjuster adjuster) {
    List<Long> ids = assemblies.stream().map(Assembly::id).toList();
    Map<Long, Reading> latest = readings.latest(ids);
    ReadingDrifts drifts = referenceChecks.drifts(latest.values());
    Map<Long, List<Instruction>> issued =
        instructions.of(ids).stream().collect(Collectors.groupingBy(Instruction::assemblyId));
    return (position, assembly) -> {
      Reading reading = latest.get(assembly.id());
      return MemberSituation.of(
          order.specification(),
          adjuster,
          position,
          assembly,
          reading,
          reading == null ? null : drifts.at(reading),
          issued.getOrDefault(assembly.id(), List.of()));
    };
  }

  /** With a free centre every member has to be read first; with a master, the master. */
  private static List<String> waitingFor(
      MatchedSet set, Specification specification, List<MemberSituation> situations) {
    boolean free = specification.basis() == Basis.SET && set.lockedCenterDeg().isEmpty();
    List<String> serials = new ArrayList<>();
    for (MemberSituation situation : situations) {
      String serial = situation.assembly().serial();
      boolean master = specification.basis() == Basis.MASTER && serial.equals(set.masterSerial());
      boolean missing =
          situation.verdict() == Verdict.UNREAD || situation.verdict() == Verdict.CHECK_REFERENCE;
      if ((free && missing) || (master && situation.usable() == null)) {
        serials.add(serial);
      }
    }
    return serials;
  }

  private static SetPlan waitingPlan(
      WorkOrder order,
      CableType cable,
      MatchedSet set,
      List<String> waitingFor,
      Velocity velocity,
      List<MemberSituation> situations) {
    Sentence reason = Sentence.of("reason.waitsFor", names(waitingFor));
    List<MemberPlan> members =
        situations.stream()
            .map(
                s ->
                    s.usable() == null
                        ? MemberPlanner.without(s, s.verdict(), s.reason())
                        : MemberPlanner.without(s, Verdict.WAITING, reason))
            .toList();
    return new SetPlan(
        order,
        cable,
        set,
        waitingFor,
        List.of(),
        false,
        true,
        velocity,
        List.of(),
        List.of(),
        members);
  }

  private static Sentence names(List<String> serials) {
    return serials.size() <= 3
        ? Sentence.said(String.join(", ", serials))
        : Sentence.of("reason.andOthers", serials.get(0), serials.size() - 1);
  }

  private static Map<Long, ErrorUncertainty> uncertainties(
      MatchedSet set, Specification specification, List<Usable> usable) {
    boolean oneBench = usable.stream().map(u -> u.reading().benchId()).distinct().count() == 1;
    Map<Long, ErrorUncertainty> uncertainties = new HashMap<>();
    for (Usable u : usable) {
      uncertainties.put(
          u.assembly().id(),
          ErrorUncertainty.of(
              specification.basis(),
              oneBench,
              u.assembly().serial().equals(set.masterSerial()),
              u.budgets()));
    }
    return uncertainties;
  }

  /** One guard band for the whole set: that of its least certain member. */
  static List<FrequencyLimit> limits(
      Specification specification, Iterable<ErrorUncertainty> uncertainties) {
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      double largestDeg = 0;
      for (ErrorUncertainty u : uncertainties) {
        largestDeg = Math.max(largestDeg, u.standardDeg(k));
      }
      limits.add(
          new FrequencyLimit(
              f.frequencyHz(), f.toleranceDeg(), specification.guardDeg(k, largestDeg)));
    }
    return limits;
  }

  /** A fixed centre makes a free set a nominal one, with errors counted from the centre. */
  private static SetProblem problem(
      MatchedSet set,
      Specification specification,
      List<FrequencyLimit> limits,
      List<Usable> open,
      Adjuster adjuster) {
    List<Double> locked = set.lockedCenterDeg();
    Basis basis = locked.isEmpty() ? specification.basis() : Basis.NOMINAL;
    List<SetProblem.Member> members = new ArrayList<>();
    for (Usable u : open) {
      List<Double> errors = new ArrayList<>();
      for (int k = 0; k < u.errorDeg().size(); k++) {
        errors.add(u.errorDeg().get(k) - (locked.isEmpty() ? 0 : locked.get(k)));
      }
      members.add(adjuster.member(u.assembly(), errors));
    }
    return new SetProblem(
        basis,
        basis == Basis.MASTER ? set.masterSerial() : null,
        specification.turns(),
        specification.aimFraction(),
        limits,
        members);
  }

  private static List<Double> center(
      MatchedSet set,
      Specification specification,
      List<Usable> usable,
      @Nullable SetSolution solution) {
    if (!set.lockedCenterDeg().isEmpty()) {
      return set.lockedCenterDeg();
    }
    if (specification.basis() == Basis.MASTER) {
      return usable.stream()
          .filter(u -> u.assembly().serial().equals(set.masterSerial()))
          .findFirst()
          .map(Usable::errorDeg)
          .orElse(List.of());
    }
    if (solution != null) {
      return solution.centerDeg();
    }
    return specification.frequencies().stream().map(f -> 0.0).toList();
  }
}
