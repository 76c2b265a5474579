package org.equiphase.adjustment;

import java.time.Clock;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Basis;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.Readings;
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
  private final InstructionTables instructions;
  private final Clock clock;

  SetPlanner(
      WorkOrders workOrders,
      Catalog catalog,
      Readings readings,
      InstructionTables instructions,
      Clock clock) {
    this.workOrders = workOrders;
    this.catalog = catalog;
    this.readings = readings;
    this.instructions = instructions;
    this.clock = clock;
  }

  SetPlan plan(MatchedSet set) {
    WorkOrder order = workOrders.order(set.workOrderId());
    Specification specification = order.specification();
    CableType cable = catalog.cableType(specification.cableTypeId());
    Long stretcherId = specification.lineStretcherId();
    Adjuster adjuster =
        new Adjuster(
            specification,
            cable,
            stretcherId == null ? null : catalog.lineStretcher(stretcherId).toRf());
    List<MemberSituation> situations = situations(set, order, adjuster);

    List<String> waitingFor = waitingFor(set, specification, situations);
    if (!waitingFor.isEmpty()) {
      return waitingPlan(order, cable, set, waitingFor, situations);
    }
    List<Usable> usable =
        situations.stream().map(MemberSituation::usable).filter(Objects::nonNull).toList();
    boolean centerFixed = !set.lockedCenterDeg().isEmpty();
    List<Usable> open = usable.stream().filter(u -> !u.awaitsRemeasurement()).toList();
    List<FrequencyLimit> limits = limits(specification, usable);
    Optional<SetSolution> solution =
        open.isEmpty()
            ? Optional.empty()
            : Optional.of(SetSolver.solve(problem(set, specification, limits, open, adjuster)));
    List<Double> centerDeg = center(set, specification, usable, solution.orElse(null));
    Map<String, org.equiphase.matching.MemberPlan> planned = new HashMap<>();
    solution.ifPresent(s -> s.assemblies().forEach(m -> planned.put(m.serial(), m)));

    List<MemberPlan> members = new ArrayList<>();
    for (MemberSituation situation : situations) {
      members.add(
          member(
              situation, planned.get(situation.assembly().serial()), centerDeg, limits, adjuster));
    }
    return new SetPlan(
        order,
        cable,
        set,
        List.of(),
        centerDeg,
        centerFixed,
        solution.map(SetSolution::proven).orElse(true),
        members);
  }

  private List<MemberSituation> situations(MatchedSet set, WorkOrder order, Adjuster adjuster) {
    Map<Long, Assembly> byPosition = new HashMap<>();
    for (Assembly assembly : workOrders.members(set.id())) {
      byPosition.put(Objects.requireNonNull(assembly.positionId()), assembly);
    }
    List<MemberSituation> situations = new ArrayList<>();
    for (SetPosition position : set.positions()) {
      Assembly assembly = byPosition.get(position.id());
      if (assembly != null) {
        Reading reading = readings.latest(assembly.id()).orElse(null);
        situations.add(
            MemberSituation.of(
                order.specification(),
                adjuster,
                position,
                assembly,
                reading,
                reading == null ? List.of() : instructions.doneSince(assembly.id(), reading.id()),
                instructions.standing(assembly.id()).orElse(null)));
      }
    }
    return situations;
  }

  /** With a free centre every member has to be read first; with a master, the master. */
  private static List<String> waitingFor(
      MatchedSet set, Specification specification, List<MemberSituation> situations) {
    boolean free = specification.basis() == Basis.SET && set.lockedCenterDeg().isEmpty();
    List<String> serials = new ArrayList<>();
    for (MemberSituation situation : situations) {
      String serial = situation.assembly().serial();
      boolean master = specification.basis() == Basis.MASTER && serial.equals(set.masterSerial());
      if ((free && situation.verdict() == Verdict.UNREAD)
          || (master && situation.usable() == null)) {
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
      List<MemberSituation> situations) {
    List<MemberPlan> members = new ArrayList<>();
    String reason = "The plan waits for the readings of " + names(waitingFor) + ".";
    for (MemberSituation s : situations) {
      boolean waits = s.usable() != null;
      members.add(
          new MemberPlan(
              s.position(),
              s.assembly(),
              s.reading(),
              waits ? Verdict.WAITING : s.verdict(),
              waits ? reason : s.reason(),
              List.of(),
              null,
              s.standing()));
    }
    return new SetPlan(order, cable, set, waitingFor, List.of(), false, true, members);
  }

  private static String names(List<String> serials) {
    return serials.size() <= 3
        ? String.join(", ", serials)
        : serials.get(0) + " and " + (serials.size() - 1) + " others";
  }

  /** One guard band for the whole set: that of its least certain reading. */
  private static List<FrequencyLimit> limits(Specification specification, List<Usable> usable) {
    double uncertaintyDeg =
        usable.stream().mapToDouble(u -> u.reading().standardUncertaintyDeg()).max().orElse(0);
    List<FrequencyLimit> limits = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      limits.add(
          new FrequencyLimit(
              f.frequencyHz(), f.toleranceDeg(), specification.guardDeg(k, uncertaintyDeg)));
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

  private MemberPlan member(
      MemberSituation s,
      org.equiphase.matching.@Nullable MemberPlan planned,
      List<Double> centerDeg,
      List<FrequencyLimit> limits,
      Adjuster adjuster) {
    Usable usable = s.usable();
    if (usable == null) {
      return new MemberPlan(
          s.position(),
          s.assembly(),
          s.reading(),
          s.verdict(),
          s.reason(),
          List.of(),
          null,
          s.standing());
    }
    Adjustment adjustment =
        usable.awaitsRemeasurement()
            ? adjuster.done(usable.doneSince())
            : adjuster.planned(usable, Objects.requireNonNull(planned), centerDeg);
    List<SpotPlan> spots = spots(usable, adjustment, centerDeg, limits, adjuster);
    Optional<SpotPlan> missed =
        adjustment.trimMm() != 0 || adjustment.settingMm() != null
            ? spots.stream().filter(SpotPlan::missesAfter).findFirst()
            : Optional.empty();
    if (missed.isPresent()) {
      adjustment = Adjustment.hold(tooCoarse(missed.get()));
      spots = spots(usable, adjustment, centerDeg, limits, adjuster);
    }
    Instruction proposed =
        adjustment.action() == null
            ? null
            : new Instruction(
                0,
                0,
                s.assembly().id(),
                usable.reading().id(),
                adjustment.action(),
                adjustment.trimMm(),
                adjustment.settingMm(),
                adjustment.slideMm(),
                adjustment.reason(),
                Instruction.State.ISSUED,
                clock.instant(),
                null,
                spots.stream()
                    .map(
                        p ->
                            new Instruction.Prediction(
                                p.frequencyHz(),
                                p.targetPhaseDeg(),
                                p.errorDeg(),
                                p.predictedErrorDeg()))
                    .toList());
    return new MemberPlan(
        s.position(),
        s.assembly(),
        s.reading(),
        usable.awaitsRemeasurement() ? Verdict.MEASURE_AGAIN : verdict(adjustment),
        adjustment.reason(),
        spots,
        proposed,
        s.standing());
  }

  private static List<SpotPlan> spots(
      Usable usable,
      Adjustment adjustment,
      List<Double> centerDeg,
      List<FrequencyLimit> limits,
      Adjuster adjuster) {
    List<SpotPlan> spots = new ArrayList<>();
    for (int k = 0; k < limits.size(); k++) {
      FrequencyLimit limit = limits.get(k);
      double errorDeg = adjuster.wrap(usable.errorDeg().get(k) - centerDeg.get(k));
      spots.add(
          new SpotPlan(
              limit.frequencyHz(),
              usable.nominalDeg().get(k) + centerDeg.get(k),
              errorDeg,
              adjuster.wrap(errorDeg + adjustment.shiftDeg(limit.frequencyHz())),
              limit.toleranceDeg(),
              limit.acceptanceDeg()));
    }
    return spots;
  }

  private static String tooCoarse(SpotPlan spot) {
    return String.format(
        Locale.ROOT,
        "The step of cuts or of the stretcher is too coarse: the best one would leave %+.2f° at"
            + " %.4f GHz, accepted within ±%.2f°.",
        spot.predictedErrorDeg(),
        spot.frequencyHz() / 1e9,
        spot.acceptanceDeg());
  }

  private static Verdict verdict(Adjustment adjustment) {
    if (adjustment.action() == null) {
      return Verdict.IN_TOLERANCE;
    }
    return adjustment.action() == Instruction.Action.HOLD ? Verdict.OUT : Verdict.ADJUST;
  }
}
