package org.equiphase.building;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.equiphase.adjustment.Adjustments;
import org.equiphase.adjustment.PoolStandings;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.building.Drafts.Fit;
import org.equiphase.matching.Assignment;
import org.equiphase.matching.Basis;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.equiphase.workorder.WorkOrders;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Who of a set stands where, before anything of it was cut or set. */
@Service
class Arrangements {

  private final PoolStandings standings;
  private final WorkOrders workOrders;
  private final Adjustments adjustments;

  Arrangements(PoolStandings standings, WorkOrders workOrders, Adjustments adjustments) {
    this.standings = standings;
    this.workOrders = workOrders;
    this.adjustments = adjustments;
  }

  /**
   * Who stands at which position, and how far each is from what it asks.
   *
   * @param shares of the tolerance, by position
   */
  record Arrangement(
      List<String> serials, List<Double> shares, double sum, double worst, boolean same) {

    Arrangement {
      serials = List.copyOf(serials);
      shares = List.copyOf(shares);
    }
  }

  /** As the set stands, and as it would stand best by either sum. */
  record Choice(
      WorkOrder order,
      MatchedSet set,
      Arrangement now,
      Arrangement leastSum,
      Arrangement leastWorst) {

    public Arrangement by(Fit fit) {
      return fit == Fit.LEAST_SUM ? leastSum : leastWorst;
    }
  }

  /** Whether its members could do better elsewhere, by what is known without their readings. */
  static boolean worthwhile(MatchedSet set) {
    SetPosition first = set.positions().get(0);
    return set.releasedAt() == null
        && set.lockedCenterDeg().isEmpty()
        && set.positions().stream()
            .anyMatch(
                p ->
                    p.offsetPhaseDeg() != first.offsetPhaseDeg()
                        || p.offsetDelayPs() != first.offsetDelayPs());
  }

  @Transactional(readOnly = true)
  Choice of(WorkOrder order, long setId) {
    MatchedSet set = workOrders.set(setId);
    if (set.workOrderId() != order.id()) {
      throw new ConflictException(Sentence.of("building.otherOrder", set.name(), order.number()));
    }
    List<Assembly> members = workOrders.members(setId);
    Standings all = standings.of(order, members);
    for (Standing member : all.members()) {
      if (member.reason() != null) {
        throw new ConflictException(
            Sentence.of("building.cantArrange", member.assembly().serial(), member.reason()));
      }
    }
    if (members.size() != set.positions().size()) {
      throw new ConflictException(Sentence.of("order.setChanged", set.name()));
    }
    Ask ask = new Ask(Rule.MOST_SETS, null, 100, false, set.positions());
    double[][] cost =
        new Pool(order.specification(), all, ask).costs().of(all.members(), set.positions());
    int[] now = new int[members.size()];
    Arrays.setAll(now, i -> i);
    int pinned = master(order, set, members);
    return new Choice(
        order,
        set,
        arrangement(members, cost, now),
        arrangement(members, cost, best(cost, Fit.LEAST_SUM, pinned)),
        arrangement(members, cost, best(cost, Fit.LEAST_WORST, pinned)));
  }

  /** Has the members go to where they fit best, and plans the set again. */
  @Transactional
  public MatchedSet exchange(WorkOrder order, long setId, int version, Fit fit) {
    MatchedSet set = workOrders.lockSet(setId);
    if (set.version() != version) {
      throw new ConflictException(Sentence.of("order.setChanged", set.name()));
    }
    List<Assembly> members =
        of(order, setId).by(fit).serials().stream().map(workOrders::assemblyBySerial).toList();
    workOrders.arrange(set, members);
    adjustments.planAgain(setId);
    return workOrders.set(setId);
  }

  /** The master keeps its position, since the others are matched to it there; -1 for none. */
  private static int master(WorkOrder order, MatchedSet set, List<Assembly> members) {
    if (order.specification().basis() != Basis.MASTER) {
      return -1;
    }
    return members.stream().map(Assembly::serial).toList().indexOf(set.masterSerial());
  }

  private static int[] best(double[][] cost, Fit fit, int pinned) {
    if (pinned < 0) {
      return Drafts.best(cost, fit);
    }
    double[][] others = new double[cost.length - 1][cost.length - 1];
    for (int p = 0; p < others.length; p++) {
      for (int i = 0; i < others.length; i++) {
        others[p][i] = cost[p < pinned ? p : p + 1][i < pinned ? i : i + 1];
      }
    }
    int[] answer = Drafts.best(others, fit);
    int[] best = new int[cost.length];
    best[pinned] = pinned;
    for (int p = 0; p < answer.length; p++) {
      best[p < pinned ? p : p + 1] = answer[p] < pinned ? answer[p] : answer[p] + 1;
    }
    return best;
  }

  private static Arrangement arrangement(List<Assembly> members, double[][] cost, int[] at) {
    List<String> serials = new ArrayList<>();
    List<Double> shares = new ArrayList<>();
    boolean same = true;
    for (int p = 0; p < at.length; p++) {
      serials.add(members.get(at[p]).serial());
      shares.add(cost[p][at[p]]);
      same &= at[p] == p;
    }
    return new Arrangement(
        serials, shares, Assignment.sum(cost, at), Assignment.worst(cost, at), same);
  }
}
