package org.equiphase.matching;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.stream.IntStream;

/**
 * The nodes from which the search starts. Some member stays in the set. Where turns count, the
 * centre lies within the hull of all options. Where they don't, the turns of one member that stays
 * are set to zero, and those of the others are listed relative to it; one root per member and
 * action, all members before it being replaced.
 */
final class Roots {

  /** Charged for each option, so that the work limit also limits the memory. */
  private static final long FOUND_WORK = 100;

  private final Model model;
  private final Work work;

  /** Members in the order in which their turns are set to zero. */
  private final int[] order;

  /** Roots of the members before are out; those of {@code order[position]} wait here. */
  private final Deque<Option> waiting = new ArrayDeque<>();

  private int position = -1;

  Roots(Model model, Work work, Trial known) {
    this.model = model;
    this.work = work;
    // A member that a good answer leaves alone pins the centre down, and to replace it costs most;
    // one with little reach leaves the others few turns to choose from.
    order =
        IntStream.range(0, model.members)
            .boxed()
            .sorted(
                Comparator.comparing((Integer i) -> known.action[i])
                    .thenComparingDouble(this::reachMm))
            .mapToInt(Integer::intValue)
            .toArray();
  }

  /** Whether a root is left that may hold something as good as the best trial. */
  boolean hasNext(Trial best) {
    if (!waiting.isEmpty()) {
      return true;
    }
    int members = model.modulo ? model.members : 1;
    return position + 1 < members && position + 1 <= best.replaced;
  }

  Node next() {
    if (waiting.isEmpty()) {
      position++;
      if (!model.modulo) {
        return absolute();
      }
      waiting.addAll(plain(order[position]));
    }
    return relative(waiting.removeFirst());
  }

  private Node absolute() {
    int size = model.frequencies + 1;
    Zone everything = Zone.everything(size);
    Zone hull = Zone.nothing(size);
    Zone.Fit fit = new Zone.Fit(size);
    Option[][] options = new Option[model.members][];
    for (int i = 0; i < model.members; i++) {
      options[i] = plain(i).toArray(Option[]::new);
      for (Option option : options[i]) {
        fit.measure(everything, option);
        hull.widen(everything, fit);
      }
    }
    return new Node(hull, options, new boolean[model.members]);
  }

  /** A member's options without turns, the most welcome first. */
  private List<Option> plain(int member) {
    List<Option> options = new ArrayList<>();
    int[] noTurns = new int[model.frequencies];
    options.add(option(member, Action.NONE, noTurns));
    if (model.hasStretcher(member)) {
      options.add(option(member, Action.STRETCH, noTurns));
    }
    if (model.trimMaxAirMm[member] > 0) {
      options.add(option(member, Action.TRIM, noTurns));
    }
    return options;
  }

  private Option option(int member, Action action, int[] turns) {
    double low = action == Action.STRETCH ? model.stretchLowAirMm[member] : 0;
    double high =
        switch (action) {
          case STRETCH -> model.stretchHighAirMm[member];
          case TRIM -> model.trimMaxAirMm[member];
          default -> 0;
        };
    return Option.of(model, member, action, low, high, turns, Model.SEARCH_SLACK_DEG);
  }

  private double reachMm(int member) {
    double stretch = model.stretchHighAirMm[member] - model.stretchLowAirMm[member];
    return model.trimMaxAirMm[member] + Math.max(0, stretch);
  }

  private Node relative(Option fixed) {
    int size = model.frequencies + 1;
    Zone zone = Zone.everything(size);
    Zone.Fit fit = new Zone.Fit(size);
    fit.measure(zone, fixed);
    zone.meet(fit);
    Option[][] options = new Option[model.members][];
    boolean[] settled = new boolean[model.members];
    for (int j = 0; j < position; j++) {
      options[order[j]] = new Option[0];
      settled[order[j]] = true;
    }
    options[fixed.member()] = new Option[] {fixed};
    for (int j = position + 1; j < order.length; j++) {
      List<Option> found = new ArrayList<>();
      for (Option plain : plain(order[j])) {
        double low = plain.lowAirMm() - fixed.highAirMm();
        double high = plain.highAirMm() - fixed.lowAirMm();
        addTurns(plain, fixed, 0, low, high, new int[model.frequencies], found);
      }
      options[order[j]] = found.toArray(Option[]::new);
    }
    return new Node(zone, options, settled);
  }

  /**
   * Adds the option with every choice of turns that leaves some shortening relative to the fixed
   * member, from {@code low} to {@code high}, at which the two suit a common centre.
   */
  private void addTurns(
      Option plain, Option fixed, int k, double low, double high, int[] turns, List<Option> found) {
    work.spend(1);
    if (work.exhausted()) {
      return;
    }
    if (k == model.frequencies) {
      work.spend(FOUND_WORK);
      found.add(option(plain.member(), plain.action(), Arrays.copyOf(turns, k)));
      return;
    }
    double turnMm = 360 / model.degPerMm[k];
    // Bounds of the relative shortening that follow from the two options at this frequency
    double least = -(plain.above()[k + 1] + fixed.below()[k + 1]);
    double most = fixed.above()[k + 1] + plain.below()[k + 1];
    int from = (int) Math.ceil((least - high) / turnMm - 1e-9);
    int to = (int) Math.floor((most - low) / turnMm + 1e-9);
    for (int turn = from; turn <= to; turn++) {
      double nextLow = Math.max(low, least - turn * turnMm);
      double nextHigh = Math.min(high, most - turn * turnMm);
      if (nextLow <= nextHigh + model.epsilonMm) {
        turns[k] = turn;
        addTurns(plain, fixed, k + 1, nextLow, nextHigh, turns, found);
      }
    }
  }
}
