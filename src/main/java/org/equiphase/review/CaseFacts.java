package org.equiphase.review;

import java.util.List;
import org.equiphase.adjustment.AssemblyHistory;
import org.equiphase.adjustment.FirstErrors.FirstError;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.review.WorkOutcomes.Work;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/**
 * Everything about one assembly that QA has to decide about.
 *
 * @param plan its set, planned as if nobody held it; null in the pool
 * @param member the assembly in that plan; null in the pool
 * @param asItIs the same with all its numbers, also where its loss or VSWR already puts it out
 * @param worst the error that uses most of its limit; null without a usable reading
 * @param history readings, voided ones too, and instructions, the newest first
 * @param cuts cuts and settings signed off, the newest first
 * @param neighbours the latest assemblies of the same lot
 * @param dispositions the newest first
 */
record CaseFacts(
    Assembly assembly,
    WorkOrder order,
    @Nullable SetPlan plan,
    @Nullable MemberPlan member,
    @Nullable MemberPlan asItIs,
    @Nullable SpotPlan worst,
    AssemblyHistory.History history,
    List<Work> cuts,
    List<Neighbour> neighbours,
    List<Disposition> dispositions) {

  CaseFacts {
    cuts = List.copyOf(cuts);
    neighbours = List.copyOf(neighbours);
    dispositions = List.copyOf(dispositions);
  }

  /** An assembly of the same lot; {@code firstError} is null while it has no reading. */
  record Neighbour(Assembly assembly, @Nullable FirstError firstError) {}
}
