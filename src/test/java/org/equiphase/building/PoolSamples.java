package org.equiphase.building;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.equiphase.adjustment.PoolStandings.Standing;
import org.equiphase.adjustment.PoolStandings.Standings;
import org.equiphase.matching.Basis;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.DecisionRule;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.ReviewTerms;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** Pools made of errors, without a database. */
final class PoolSamples {

  static final double VELOCITY_FACTOR = 0.695;

  private PoolSamples() {}

  static Specification specification(
      Basis basis, Turns turns, double trimAllowanceMm, double toleranceDeg, double... hertz) {
    List<FrequencySpecification> frequencies = new ArrayList<>();
    for (double each : hertz) {
      frequencies.add(new FrequencySpecification(each, toleranceDeg, null, null, null));
    }
    return new Specification(
        1,
        "SMA",
        null,
        Method.TRANSMISSION,
        basis,
        turns,
        1000,
        20,
        null,
        trimAllowanceMm,
        0.1,
        0.1,
        0.02,
        null,
        null,
        0.3,
        null,
        23,
        null,
        null,
        DecisionRule.SIMPLE,
        1,
        frequencies);
  }

  /** Assemblies A0, A1 … with these errors, and no guard band. */
  static Standings standings(Specification specification, List<List<Double>> errorDeg) {
    List<Standing> members = new ArrayList<>();
    for (List<Double> each : errorDeg) {
      members.add(
          new Standing(
              assembly(members.size()), each, List.of(), specification.trimAllowanceMm(), null));
    }
    return new Standings(
        members,
        specification.frequencies().stream()
            .map(f -> new FrequencyLimit(f.frequencyHz(), f.toleranceDeg(), 0))
            .toList(),
        VELOCITY_FACTOR,
        specification.frequencies().stream().map(f -> 0.5).toList());
  }

  static Ask ask(Rule rule, @Nullable Integer wanted, boolean cuts, int setSize) {
    return new Ask(
        rule,
        wanted,
        100,
        cuts,
        IntStream.range(0, setSize)
            .mapToObj(i -> new SetPosition(0, i, "" + (i + 1), 0, 0))
            .toList());
  }

  private static Assembly assembly(int number) {
    return new Assembly(
        number + 1L,
        0,
        "A" + number,
        1,
        "",
        null,
        null,
        AssemblyState.MEASURED,
        "",
        null,
        0,
        null,
        ReviewTerms.NONE);
  }
}
