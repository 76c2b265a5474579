package org.equiphase.review;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.AssemblyHistory;
import org.equiphase.adjustment.FirstErrors;
import org.equiphase.adjustment.FirstErrors.FirstError;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.Turns;
import org.equiphase.measurement.BenchDrift;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReferenceChecks;
import org.equiphase.review.CaseFacts.Neighbour;
import org.equiphase.review.CaseFacts.Outcome;
import org.equiphase.review.CaseFacts.Work;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Gathers what is known about an assembly that QA has to decide about. */
@Component
class Cases {

  private static final int NEIGHBOURS = 20;
  private static final double COVERAGE = 2;
  private static final double MM_PER_M = 1e3;

  private final WorkOrders workOrders;
  private final Adjustments adjustments;
  private final AssemblyHistory history;
  private final FirstErrors firstErrors;
  private final ReferenceChecks referenceChecks;
  private final Dispositions dispositions;
  private final Catalog catalog;

  Cases(
      WorkOrders workOrders,
      Adjustments adjustments,
      AssemblyHistory history,
      FirstErrors firstErrors,
      ReferenceChecks referenceChecks,
      Dispositions dispositions,
      Catalog catalog) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
    this.history = history;
    this.firstErrors = firstErrors;
    this.referenceChecks = referenceChecks;
    this.dispositions = dispositions;
    this.catalog = catalog;
  }

  @Transactional(readOnly = true)
  CaseFacts of(String serial) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    WorkOrder order = workOrders.order(assembly.workOrderId());
    SetPlan plan = plan(assembly);
    MemberPlan member = plan == null ? null : plan.member(assembly.id());
    MemberPlan asItIs = plan == null || member == null ? null : asItIs(plan, member);
    AssemblyHistory.History all = history.of(assembly);
    return new CaseFacts(
        assembly,
        order,
        plan,
        member,
        asItIs,
        asItIs == null ? null : FindingRules.worst(asItIs),
        all,
        work(order, all.instructions(), all.readings()),
        neighbours(assembly),
        dispositions.of(assembly.id()));
  }

  private @Nullable SetPlan plan(Assembly assembly) {
    Long setId = assembly.setId();
    if (setId == null) {
      return null;
    }
    return adjustments.planAs(
        workOrders.set(setId),
        workOrders.members(setId).stream()
            .map(m -> m.id() == assembly.id() ? m.unheld() : m)
            .toList());
  }

  private MemberPlan asItIs(SetPlan plan, MemberPlan member) {
    Reading reading = member.reading();
    if (!member.spots().isEmpty() || reading == null) {
      return member;
    }
    Assembly assembly = member.assembly();
    Assembly accepted = assembly.with(assembly.terms().withConcededReading(reading.id()));
    return adjustments
        .planAs(
            plan.set(),
            plan.members().stream()
                .map(MemberPlan::assembly)
                .map(a -> a.id() == assembly.id() ? accepted : a)
                .toList())
        .member(assembly.id());
  }

  private List<Neighbour> neighbours(Assembly assembly) {
    if (assembly.cableLot().isEmpty()) {
      return List.of();
    }
    List<Assembly> lot =
        workOrders.ofLot(assembly.cableLot(), NEIGHBOURS + 1).stream()
            .filter(a -> a.id() != assembly.id())
            .limit(NEIGHBOURS)
            .toList();
    Map<Long, FirstError> errors = firstErrors.of(lot);
    return lot.stream().map(a -> new Neighbour(a, errors.get(a.id()))).toList();
  }

  private List<Work> work(WorkOrder order, List<Instruction> instructions, List<Reading> readings) {
    List<Reading> valid =
        readings.stream()
            .filter(r -> r.voided() == null)
            .sorted(Comparator.comparing(Reading::takenAt).thenComparing(Reading::id))
            .toList();
    Map<Long, BenchDrift> drifts = referenceChecks.drifts(valid);
    List<Work> work = new ArrayList<>();
    for (Instruction instruction : instructions) {
      Instruction.Done done = instruction.done();
      if (done != null) {
        Optional<Reading> next =
            valid.stream()
                .filter(r -> r.id() > instruction.readingId() && !r.takenAt().isBefore(done.at()))
                .findFirst();
        work.add(
            new Work(
                instruction,
                next.map(Reading::id).orElse(null),
                next.map(r -> outcomes(order, instruction, r, drifts)).orElse(List.of())));
      }
    }
    return work;
  }

  private List<Outcome> outcomes(
      WorkOrder order, Instruction instruction, Reading next, Map<Long, BenchDrift> drifts) {
    VelocityFactor velocity = catalog.cableType(instruction.cableTypeId()).nominalVelocityFactor();
    boolean modulo = order.specification().turns() == Turns.MODULO_360;
    List<Outcome> outcomes = new ArrayList<>();
    for (int k = 0; k < instruction.predictions().size(); k++) {
      Instruction.Prediction predicted = instruction.predictions().get(k);
      double driftDeg =
          Objects.requireNonNull(drifts.get(next.benchId()))
              .at(next.takenAt())
              .driftDeg(predicted.frequencyHz());
      double errorDeg = next.spots().get(k).phaseDeg() - driftDeg - predicted.targetPhaseDeg();
      double achievedDeg = modulo ? WrappedPhase.wrapDeg(errorDeg) : errorDeg;
      double deviationDeg = achievedDeg - predicted.predictedErrorDeg();
      Double uncertainty = predicted.standardUncertaintyDeg();
      outcomes.add(
          new Outcome(
              predicted.frequencyHz(),
              predicted.predictedErrorDeg(),
              uncertainty,
              achievedDeg,
              deviationDeg,
              -deviationDeg
                  / velocity.degreesPerMetre(Frequency.ofHertz(predicted.frequencyHz()))
                  * MM_PER_M,
              uncertainty == null ? null : Math.abs(deviationDeg) <= COVERAGE * uncertainty));
    }
    return outcomes;
  }
}
