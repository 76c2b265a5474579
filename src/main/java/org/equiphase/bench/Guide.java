package org.equiphase.bench;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.workorder.Assembly;
import org.jspecify.annotations.Nullable;

/**
 * What is left in a set, in the order in which it is best done: a cut or set cable is measured
 * again while it is at hand, then the unread ones, then the ones to adjust; each round goes up the
 * positions from where the technician stands.
 *
 * @param toDo members that a technician can do something for, the next one first
 * @param done members in tolerance
 * @param held members that wait for QA
 */
public record Guide(List<MemberPlan> toDo, long done, long held, int members) {

  private static final List<Verdict> ROUNDS =
      List.of(Verdict.MEASURE_AGAIN, Verdict.UNREAD, Verdict.CHECK_REFERENCE, Verdict.ADJUST);

  public Guide {
    toDo = List.copyOf(toDo);
  }

  static Guide of(SetPlan plan, Assembly here) {
    List<MemberPlan> members = plan.members();
    int at = 0;
    for (int i = 0; i < members.size(); i++) {
      if (members.get(i).assembly().id() == here.id()) {
        at = i;
      }
    }
    List<MemberPlan> toDo = new ArrayList<>();
    for (Verdict round : ROUNDS) {
      for (int step = 1; step <= members.size(); step++) {
        MemberPlan member = members.get((at + step) % members.size());
        if (member.verdict() == round) {
          toDo.add(member);
        }
      }
    }
    return new Guide(
        toDo,
        plan.count(Verdict.IN_TOLERANCE) + plan.count(Verdict.CONCEDED),
        plan.count(Verdict.OUT) + plan.count(Verdict.HELD) + plan.count(Verdict.SCRAPPED),
        members.size());
  }

  public long left(String verdict) {
    return toDo.stream().filter(m -> m.verdict() == Verdict.valueOf(verdict)).count();
  }

  /** The next one other than this; null where nothing else is left. */
  public @Nullable Assembly next(Assembly here) {
    return toDo.stream()
        .map(MemberPlan::assembly)
        .filter(a -> a.id() != here.id())
        .findFirst()
        .orElse(null);
  }

  /** The first few others, for the list beside the instruction. */
  public List<MemberPlan> following(Assembly here) {
    return toDo.stream().filter(m -> m.assembly().id() != here.id()).limit(6).toList();
  }
}
