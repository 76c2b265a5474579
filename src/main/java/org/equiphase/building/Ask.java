package org.equiphase.building;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.equiphase.web.Checks;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.SetPosition;
import org.jspecify.annotations.Nullable;

/**
 * What a planner asks of the pool.
 *
 * @param wantedSets for the rules that take a number; null for as many as there are
 * @param tolerancePercent how much of the order's acceptance limit a set may use
 * @param cuts whether members may be cut to join a set
 * @param positions of every set, with their offsets; their ids don't count
 */
public record Ask(
    Rule rule,
    @Nullable Integer wantedSets,
    double tolerancePercent,
    boolean cuts,
    List<SetPosition> positions) {

  private static final int MOST_POSITIONS = 200;

  public Ask {
    positions = List.copyOf(positions);
  }

  int setSize() {
    return positions.size();
  }

  /** Whether it matters who stands where. */
  public boolean staggered() {
    SetPosition first = positions.get(0);
    return positions.stream()
        .anyMatch(
            p ->
                p.offsetPhaseDeg() != first.offsetPhaseDeg()
                    || p.offsetDelayPs() != first.offsetDelayPs());
  }

  void check() {
    Checks checks = new Checks();
    checks.inRange("setSize", positions.size(), 2, MOST_POSITIONS);
    checks.inRange("tolerancePercent", tolerancePercent, 1, 100);
    if (wantedSets != null) {
      checks.inRange("wantedSets", wantedSets, 1, 10_000);
    }
    Set<String> labels = new HashSet<>();
    for (int i = 0; i < positions.size(); i++) {
      SetPosition position = positions.get(i);
      String field = "positions[" + i + "].";
      checks
          .text(field + "label", position.label(), 40)
          .inRange(field + "offsetPhaseDeg", position.offsetPhaseDeg(), -1e6, 1e6)
          .inRange(field + "offsetDelayPs", position.offsetDelayPs(), -1e6, 1e6);
      if (!labels.add(position.label())) {
        checks.problem(field + "label", Sentence.of("order.labelTwice", position.label()));
      }
    }
    checks.done();
  }
}
