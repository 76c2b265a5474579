package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;

/** Bounds what a node can hold, and drops from it what can't belong to a better answer. */
final class NodeBound {

  private static final int MAX_ROUNDS = 6;

  /** Share of the zone's width that must have gone. */
  private static final double WORTH_ANOTHER_ROUND = 0.1;

  private final Model model;
  private final Work work;
  private final Zone.Fit fit;

  /** Measures of the options that {@link #reduce} left, in their order. */
  private final List<Zone.Fit> fits = new ArrayList<>();

  private final Sweep sweep;

  private Node node;
  private Trial best;
  private long rank;
  private double trimMm;
  private double stretchMm;

  NodeBound(Model model, Work work) {
    this.model = model;
    this.work = work;
    fit = new Zone.Fit(model.frequencies + 1);
    sweep = new Sweep(model);
    node = new Node(Zone.everything(0), new Option[0][], new boolean[0]);
    best = new Trial(new double[0], 0);
  }

  /** Tightens the node in place; false if it holds nothing better than the best trial. */
  boolean tighten(Node newNode, Trial bestTrial) {
    node = newNode;
    best = bestTrial;
    for (int round = 0; round < MAX_ROUNDS; round++) {
      measure();
      if (rank > best.rank() || (rank == best.rank() && best.beatsLengths(trimMm, stretchMm))) {
        return false;
      }
      if (sweep.leastRank(rank) > best.rank()) {
        return false;
      }
      Zone before = node.zone.copy();
      if (!force()) {
        return false;
      }
      if (!node.zone.shrunkFrom(before, WORTH_ANOTHER_ROUND)) {
        break;
      }
    }
    return true;
  }

  /** Drops options that nothing in the zone suits and sums up the best of each member. */
  private void measure() {
    rank = 0;
    trimMm = 0;
    stretchMm = 0;
    sweep.clear();
    for (int i = 0; i < model.members; i++) {
      if (!node.settled[i]) {
        node.options[i] = reduce(node.options[i]);
        Option[] left = node.options[i];
        node.settled[i] =
            left.length == 0 || (left.length == 1 && node.zone.within(left[0], model.epsilonMm));
        if (!node.settled[i]) {
          addOpen(i, left);
          continue;
        }
      }
      addSettled(node.options[i]);
    }
  }

  // One option is one object; equal records would be too many.
  @SuppressWarnings("ReferenceEquality")
  private Option[] reduce(Option[] options) {
    Option[] left = new Option[options.length];
    int count = 0;
    for (Option option : options) {
      work.spend(node.zone.entries());
      if (count == fits.size()) {
        fits.add(new Zone.Fit(node.zone.size));
      }
      if (fits.get(count).measure(node.zone, option) >= -model.epsilonMm) {
        left[count++] = option;
      }
    }
    for (int o = 0; o < count; o++) {
      Option sure = left[o];
      if (count > 1 && node.zone.within(sure, model.epsilonMm)) {
        int kept = 0;
        for (int p = 0; p < count; p++) {
          if (left[p] == sure) {
            o = kept;
          } else if (outdone(left[p], fits.get(p), sure)) {
            continue;
          }
          left[kept] = left[p];
          Collections.swap(fits, kept++, p);
        }
        count = kept;
      }
    }
    return Arrays.copyOf(left, count);
  }

  /** Whether {@code sure}, open at every centre of the zone, is never worse than the other. */
  private boolean outdone(Option other, Zone.Fit otherFit, Option sure) {
    if (other.action() != sure.action()) {
      return other.action().compareTo(sure.action()) > 0;
    }
    if (sure.action() == Action.NONE) {
      return true;
    }
    if (sure.action() == Action.TRIM && neverLonger(sure, other)) {
      return true;
    }
    return greatestSize(sure) < otherFit.leastSize();
  }

  private static boolean neverLonger(Option sure, Option other) {
    boolean same = true;
    for (int c = 1; c < sure.above().length; c++) {
      if (sure.above()[c] < other.above()[c]) {
        return false;
      }
      same &= sure.above()[c] == other.above()[c];
    }
    return !same;
  }

  /** Greatest of the least sizes of an adjustment over the zone (mm of air). */
  private double greatestSize(Option option) {
    double shorter = Double.NEGATIVE_INFINITY;
    double longer = Double.POSITIVE_INFINITY;
    for (int c = 0; c < node.zone.size; c++) {
      shorter = Math.max(shorter, node.zone.high(c) - option.above()[c]);
      longer = Math.min(longer, node.zone.low(c) + option.below()[c]);
    }
    return Math.max(0, Math.max(shorter, -longer));
  }

  private void addSettled(Option[] options) {
    if (options.length == 0) {
      rank += Trial.rank(1, 0, model.members);
    } else if (options[0].action() != Action.NONE) {
      fit.measure(node.zone, options[0]);
      rank++;
      addLength(options[0].action(), options[0].member(), fit.leastSize());
    }
  }

  private void addOpen(int member, Option[] options) {
    double trim = Double.POSITIVE_INFINITY;
    double stretch = Double.POSITIVE_INFINITY;
    sweep.begin();
    for (int o = 0; o < options.length; o++) {
      Action action = options[o].action();
      sweep.include(node.zone, fits.get(o), action == Action.NONE);
      if (action == Action.TRIM) {
        trim = Math.min(trim, fits.get(o).leastSize());
      } else if (action == Action.STRETCH) {
        stretch = Math.min(stretch, fits.get(o).leastSize());
      }
    }
    boolean untouched = options[0].action() == Action.NONE;
    sweep.end(untouched);
    if (untouched) {
      return;
    }
    rank++;
    if (trim == Double.POSITIVE_INFINITY) {
      addLength(Action.STRETCH, member, stretch);
    } else if (stretch == Double.POSITIVE_INFINITY) {
      addLength(Action.TRIM, member, trim);
    }
  }

  private void addLength(Action action, int member, double airMm) {
    if (action == Action.TRIM) {
      trimMm += model.trimMm(member, airMm);
    } else {
      stretchMm += airMm;
    }
  }

  /**
   * Where the best trial leaves no room for one more member replaced, the zone shrinks to what
   * suits some option of each; where none for one more adjusted, to what leaves it untouched.
   */
  private boolean force() {
    boolean noneAdjusted = rank + 1 > best.rank();
    for (int i = 0; i < model.members; i++) {
      if (node.settled[i]) {
        continue;
      }
      boolean untouched = node.options[i][0].action() == Action.NONE;
      if (noneAdjusted && untouched) {
        node.options[i] =
            Arrays.stream(node.options[i])
                .filter(option -> option.action() == Action.NONE)
                .toArray(Option[]::new);
      }
      long replacedRank = rank - (untouched ? 0 : 1) + Trial.rank(1, 0, model.members);
      if (replacedRank > best.rank() && !shrinkTo(node.options[i])) {
        return false;
      }
    }
    return true;
  }

  private boolean shrinkTo(Option[] options) {
    Zone hull = Zone.nothing(node.zone.size);
    boolean any = false;
    for (Option option : options) {
      work.spend(node.zone.entries());
      if (fit.measure(node.zone, option) >= -model.epsilonMm) {
        hull.widen(node.zone, fit);
        any = true;
      }
    }
    node.zone.replaceBy(hull);
    return any;
  }
}
