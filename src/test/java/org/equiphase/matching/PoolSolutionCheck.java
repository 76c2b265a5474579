package org.equiphase.matching;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.matching.PoolProblem.Candidate;
import org.equiphase.matching.PoolProblem.Cut;
import org.equiphase.matching.PoolProblem.PoolLimit;

/** Checks an answer against the definition of the problem alone. */
final class PoolSolutionCheck {

  private static final double SPEED_OF_LIGHT = 299_792_458;

  private PoolSolutionCheck() {}

  static void check(PoolProblem problem, PoolSolution solution) {
    List<String> all = new ArrayList<>(solution.unused());
    Map<String, Candidate> bySerial = new HashMap<>();
    problem.candidates().forEach(candidate -> bySerial.put(candidate.serial(), candidate));
    for (PoolSet set : solution.sets()) {
      assertThat(set.serials()).hasSize(problem.setSize());
      assertThat(set.spares()).hasSize(problem.spares());
      List<String> members = new ArrayList<>(set.serials());
      members.addAll(set.spares());
      all.addAll(members);
      assertThat(members).containsAll(set.trimMm().keySet());
      check(problem, set, members.stream().map(bySerial::get).toList());
    }
    assertThat(all)
        .as("each candidate once, in a set or unused")
        .containsExactlyInAnyOrderElementsOf(bySerial.keySet());
    assertThat(solution.upperBound()).isGreaterThanOrEqualTo(solution.sets().size());
    assertThat(solution.optimal()).isEqualTo(solution.upperBound() == solution.sets().size());
  }

  private static void check(PoolProblem problem, PoolSet set, List<Candidate> members) {
    for (int k = 0; k < problem.limits().size(); k++) {
      PoolLimit limit = problem.limits().get(k);
      List<Double> phases = new ArrayList<>();
      List<Double> losses = new ArrayList<>();
      for (Candidate member : members) {
        double trimMm = set.trimMm().getOrDefault(member.serial(), 0.0);
        Cut cut = member.cut();
        assertThat(trimMm).isBetween(0.0, cut == null ? 0 : cut.trimAllowanceMm());
        double velocityFactor = cut == null ? 1 : cut.velocityFactor();
        phases.add(
            member.phaseErrorDeg().get(k)
                + 360 * limit.frequencyHz() * trimMm / 1000 / (velocityFactor * SPEED_OF_LIGHT));
        if (problem.limitsLoss()) {
          double perM = cut == null || cut.lossDbPerM() == null ? 0 : cut.lossDbPerM().get(k);
          losses.add(requireNonNull(member.insertionLossDb()).get(k) - perM * trimMm / 1000);
        }
      }
      // Inclusive to within 1e-9 degrees, and the rounding of a cut on top
      assertThat(spread(phases)).isLessThanOrEqualTo(2 * limit.toleranceDeg() + 1.001e-9);
      assertThat(set.spreadDeg().get(k)).isCloseTo(spread(phases), within(1e-9));
      if (problem.limitsLoss()) {
        assertThat(set.spreadDb().get(k)).isCloseTo(spread(losses), within(1e-9));
        if (limit.lossSpreadDb() != null) {
          assertThat(spread(losses)).isLessThanOrEqualTo(limit.lossSpreadDb() + 1.001e-9);
        }
      } else {
        assertThat(set.spreadDb()).isEmpty();
      }
    }
  }

  private static double spread(List<Double> values) {
    return Collections.max(values) - Collections.min(values);
  }
}
