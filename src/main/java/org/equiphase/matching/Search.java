package org.equiphase.matching;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Branch and bound over the centre of a free set.
 *
 * <p>For one centre the best treatment of every member is known ({@link FixedCenter}), so only the
 * centre is searched. A node is a zone of centres with the options that each member still has in
 * it. It is cut in two along the edge of an option's own zone until every member is settled, or
 * until the zone can't hold an answer better than the best one known.
 */
final class Search {

  private final Model model;
  private final Work work;
  private final FixedCenter judge;
  private final NodeBound bound;
  private final Deque<Node> open = new ArrayDeque<>();
  private Trial best;
  private boolean proven;

  Search(Model model, Work work) {
    this.model = model;
    this.work = work;
    judge = new FixedCenter(model, work);
    bound = new NodeBound(model, work);
    best = judge.judge(new double[model.frequencies], Model.SLACK_DEG);
  }

  /** Whether the search came to its end, so that no better answer exists. */
  boolean proven() {
    return proven;
  }

  Trial run() {
    improve(best);
    tryCentersAtMembers();
    Roots roots = new Roots(model, work, best);
    while (!best.isPerfect() && (!open.isEmpty() || roots.hasNext(best))) {
      if (work.exhausted()) {
        return best;
      }
      Node node = open.isEmpty() ? roots.next() : open.pop();
      if (bound.tighten(node, best)) {
        expand(node);
      }
    }
    proven = best.isPerfect() || !work.exhausted();
    return best;
  }

  /** Good answers often have a member in the middle or at the edge of the limits. */
  private void tryCentersAtMembers() {
    int stride = 1 + (model.members - 1) / 128;
    for (int i = 0; i < model.members && !work.exhausted(); i += stride) {
      for (int side = -1; side <= 1; side++) {
        double[] centerDeg = new double[model.frequencies];
        for (int k = 0; k < centerDeg.length; k++) {
          centerDeg[k] = model.errorDeg[i][k] + side * model.acceptDeg[k];
        }
        Trial trial = judge.judge(centerDeg, Model.SLACK_DEG);
        if (trial.compareTo(best) < 0) {
          improve(trial);
        }
      }
    }
  }

  private void improve(Trial trial) {
    Trial next = trial;
    while (next != null && (next == best || next.compareTo(best) < 0)) {
      best = next;
      Settlement settlement = SetSolver.settle(model, best, Model.SEARCH_SLACK_DEG, work);
      next = settlement == null ? null : judge.judge(settlement.centerDeg(), Model.SLACK_DEG);
    }
  }

  private void expand(Node node) {
    Cut cut = bestCut(node);
    if (cut != null) {
      Node outside = node.copy();
      outside.remove(cut.option);
      if (outside.zone.cut(cut.b, cut.a, -cut.limit, model.epsilonMm)) {
        open.push(outside);
      }
      if (node.zone.cut(cut.a, cut.b, cut.limit, model.epsilonMm)) {
        open.push(node);
      }
      return;
    }
    for (int i = 0; i < model.members; i++) {
      Option[] options = node.options[i];
      if (options.length > 1) {
        for (int o = options.length - 1; o >= 0; o--) {
          Node child = node.copy();
          child.options[i] = new Option[] {options[o]};
          open.push(child);
        }
        return;
      }
    }
    settle(node);
  }

  private void settle(Node node) {
    List<Option> options =
        Arrays.stream(node.options).filter(left -> left.length > 0).map(left -> left[0]).toList();
    Settlement settlement = Settlement.of(model, options, work);
    if (settlement != null) {
      Trial trial = judge.judge(settlement.centerDeg(), Model.SLACK_DEG);
      if (trial.compareTo(best) < 0) {
        improve(trial);
      }
    }
  }

  /** Keeps the zone where x_a − x_b ≤ limit, the edge of the option's own zone. */
  private record Cut(Option option, int a, int b, double limit, double balance) {}

  /** The edge that leaves most on its smaller side. */
  private @Nullable Cut bestCut(Node node) {
    Cut found = null;
    Zone zone = node.zone;
    for (int i = 0; i < model.members; i++) {
      if (node.settled[i]) {
        continue;
      }
      for (Option option : node.options[i]) {
        for (int a = 0; a < zone.size; a++) {
          for (int b = 0; b < zone.size; b++) {
            double limit = option.bound(a, b);
            if (a != b && limit < zone.bound(a, b) - model.epsilonMm) {
              double balance = Math.min(zone.bound(a, b) - limit, limit + zone.bound(b, a));
              if (found == null || balance > found.balance) {
                found = new Cut(option, a, b, limit, balance);
              }
            }
          }
        }
      }
    }
    return found;
  }
}
