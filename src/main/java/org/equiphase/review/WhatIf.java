package org.equiphase.review;

import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.matching.Basis;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.ReviewTerms;
import org.equiphase.workorder.WorkOrders;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** How a set would be planned if QA decided something; stores nothing. */
@Component
class WhatIf {

  private final WorkOrders workOrders;
  private final Adjustments adjustments;

  WhatIf(WorkOrders workOrders, Adjustments adjustments) {
    this.workOrders = workOrders;
    this.adjustments = adjustments;
  }

  /** A member's set if nobody held the member. */
  SetPlan unheld(Assembly member) {
    MatchedSet set = workOrders.set(Objects.requireNonNull(member.setId()));
    return planned(set, workOrders.members(set.id()), member.unheld());
  }

  /** The set if a member's terms were others, and nobody held it. */
  SetPlan withTerms(SetPlan plan, Assembly member, ReviewTerms terms) {
    return planned(
        plan.set(),
        plan.members().stream().map(MemberPlan::assembly).toList(),
        member.unheld().with(terms));
  }

  /** A member if one of its readings were conceded. */
  MemberPlan conceded(SetPlan plan, Assembly member, @Nullable Long readingId) {
    return withTerms(plan, member, member.terms().withConcededReading(readingId))
        .member(member.id());
  }

  /**
   * The set with the target that suits all present members best, those already cut among them.
   *
   * @throws ConflictException where its target can't be moved
   */
  SetPlan recentred(MatchedSet set) {
    if (workOrders.order(set.workOrderId()).specification().basis() != Basis.SET) {
      throw new ConflictException(Sentence.of("disposition.targetGiven", set.name()));
    }
    if (set.lockedCenterDeg().isEmpty()) {
      throw new ConflictException(Sentence.of("disposition.targetFree", set.name()));
    }
    SetPlan plan =
        adjustments.planAs(
            set.withoutCenter(),
            workOrders.members(set.id()).stream().map(Assembly::unheld).toList());
    if (!plan.complete()) {
      throw new ConflictException(
          Sentence.of("disposition.unread", String.join(", ", plan.waitingFor())));
    }
    return plan;
  }

  private SetPlan planned(MatchedSet set, List<Assembly> members, Assembly changed) {
    return adjustments.planAs(
        set, members.stream().map(m -> m.id() == changed.id() ? changed : m).toList());
  }
}
