package org.equiphase.review;

import java.util.List;
import java.util.Map;
import org.equiphase.adjustment.AssemblyHistory;
import org.equiphase.adjustment.FirstErrors;
import org.equiphase.adjustment.FirstErrors.FirstError;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.measurement.Reading;
import org.equiphase.review.CaseFacts.Neighbour;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Gathers what is known about an assembly that QA has to decide about. */
@Component
class Cases {

  private static final int NEIGHBOURS = 20;

  private final WorkOrders workOrders;
  private final WhatIf whatIf;
  private final AssemblyHistory history;
  private final FirstErrors firstErrors;
  private final WorkOutcomes outcomes;
  private final Dispositions dispositions;

  Cases(
      WorkOrders workOrders,
      WhatIf whatIf,
      AssemblyHistory history,
      FirstErrors firstErrors,
      WorkOutcomes outcomes,
      Dispositions dispositions) {
    this.workOrders = workOrders;
    this.whatIf = whatIf;
    this.history = history;
    this.firstErrors = firstErrors;
    this.outcomes = outcomes;
    this.dispositions = dispositions;
  }

  @Transactional(readOnly = true)
  CaseFacts of(String serial) {
    Assembly assembly = workOrders.assemblyBySerial(serial);
    WorkOrder order = workOrders.order(assembly.workOrderId());
    SetPlan plan = assembly.setId() == null ? null : whatIf.unheld(assembly);
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
        outcomes.of(order, all.instructions(), all.readings()),
        neighbours(assembly),
        dispositions.of(assembly.id()));
  }

  private MemberPlan asItIs(SetPlan plan, MemberPlan member) {
    Reading reading = member.reading();
    return member.spots().isEmpty() && reading != null
        ? whatIf.conceded(plan, member.assembly(), reading.id())
        : member;
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
}
