package org.equiphase.matching;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * Solves the set adjustment problem exactly: fewest members replaced, then fewest adjusted, then
 * least total trim, then least total stretch. Ties go to the answer whose replaced serial numbers,
 * sorted, come first, then to the one whose adjusted ones do; serial numbers are compared character
 * by character. The order of the members in the input has no influence.
 *
 * <p>A trim of a millimetres moves the phase by +360·f·a/(v·c) degrees, a stretch of s millimetres
 * by −360·f·s/c, with the velocity factor v and c = 299 792 458 m/s.
 */
public final class SetSolver {

  /** Work limit of {@link #solve(SetProblem)}; where it is reached, a few seconds have passed. */
  public static final long DEFAULT_WORK_LIMIT = 200_000_000;

  private SetSolver() {}

  /**
   * Solves with the default work limit.
   *
   * @throws InvalidProblemException if two phase errors are so far apart that a double can't hold
   *     the distance
   */
  public static SetSolution solve(SetProblem problem) {
    return solve(problem, DEFAULT_WORK_LIMIT);
  }

  /**
   * Solves with a limit on the work, which makes the answer the same on every machine.
   *
   * @param workLimit number of elementary steps, one for each bound that is looked at; where they
   *     don't suffice, the answer is the best one found and not proven
   * @throws InvalidProblemException if two phase errors are so far apart that a double can't hold
   *     the distance
   */
  public static SetSolution solve(SetProblem problem, long workLimit) {
    Model model = new Model(problem);
    Work work = new Work(workLimit);
    if (model.free) {
      Search search = new Search(model, work);
      Trial best = search.run();
      return free(model, best, search.proven(), new Work(workLimit));
    }
    Trial trial =
        new FixedCenter(model, work).judge(new double[model.frequencies], Model.SLACK_DEG);
    return given(model, trial, !work.exhausted());
  }

  /** Amounts within the limits proper where possible, within their slack only where it must be. */
  private static SetSolution given(Model model, Trial trial, boolean proven) {
    FixedCenter exact = new FixedCenter(model, new Work(Long.MAX_VALUE));
    for (int i = 0; i < model.members; i++) {
      double airMm =
          switch (trial.action[i]) {
            case TRIM -> exact.leastTrimAirMm(i, trial.centerDeg, 0);
            case STRETCH -> exact.leastStretchAirMm(i, trial.centerDeg, 0);
            default -> 0;
          };
      trial.airMm[i] = Double.isNaN(airMm) ? trial.airMm[i] : airMm;
    }
    return solution(model, trial, trial.centerDeg, proven);
  }

  private static SetSolution free(Model model, Trial trial, boolean searched, Work work) {
    Settlement settlement = settle(model, trial, 0, work);
    if (settlement == null) {
      settlement = settle(model, trial, Model.SLACK_DEG, work);
    }
    boolean proven = searched && !work.exhausted();
    if (settlement == null) {
      return solution(model, trial, trial.centerDeg, proven);
    }
    int j = 0;
    for (int i = 0; i < model.members; i++) {
      if (trial.action[i] == Action.REPLACE) {
        continue;
      }
      trial.airMm[i] = settlement.airMm()[j++];
      // An answer that is not proven may settle where a member needs nothing after all
      if (trial.action[i] != Action.NONE && Math.abs(trial.airMm[i]) <= model.epsilonMm) {
        trial.action[i] = Action.NONE;
        trial.airMm[i] = 0;
        trial.adjusted--;
      }
    }
    return solution(model, trial, settlement.centerDeg(), proven);
  }

  /** Settles the members that a trial keeps, with its actions and turns. */
  static @Nullable Settlement settle(Model model, Trial trial, double slackDeg, Work work) {
    List<Option> options = new ArrayList<>();
    for (int i = 0; i < model.members; i++) {
      if (trial.action[i] != Action.REPLACE) {
        options.add(option(model, trial, i, slackDeg));
      }
    }
    return Settlement.of(model, options, work);
  }

  private static Option option(Model model, Trial trial, int member, double slackDeg) {
    int[] turns = new int[model.frequencies];
    for (int k = 0; model.modulo && k < turns.length; k++) {
      double errorDeg = model.errorDeg[member][k] + model.degPerMm[k] * trial.airMm[member];
      turns[k] = (int) Math.rint((trial.centerDeg[k] - errorDeg) / 360);
    }
    double low = 0;
    double high = 0;
    if (trial.action[member] == Action.TRIM) {
      high = model.trimMaxAirMm[member];
    } else if (trial.action[member] == Action.STRETCH) {
      low = model.stretchLowAirMm[member];
      high = model.stretchHighAirMm[member];
    }
    return Option.of(model, member, trial.action[member], low, high, turns, slackDeg);
  }

  private static SetSolution solution(
      Model model, Trial trial, double[] centerDeg, boolean proven) {
    MemberPlan[] plans = new MemberPlan[model.members];
    Reasons reasons = new Reasons(model, centerDeg);
    double totalMm = 0;
    for (int i = 0; i < model.members; i++) {
      Action action = trial.action[i];
      double trimMm = action == Action.TRIM ? model.trimMm(i, trial.airMm[i]) : 0;
      double stretchMm = action == Action.STRETCH ? -trial.airMm[i] : 0;
      totalMm += trimMm + Math.abs(stretchMm);
      Double[] predicted = new Double[model.frequencies];
      for (int k = 0; k < predicted.length; k++) {
        predicted[k] = model.residualDeg(i, k, trial.airMm[i], centerDeg[k]);
      }
      plans[model.inputIndex[i]] =
          new MemberPlan(
              model.serial[i],
              action,
              trimMm,
              stretchMm,
              List.of(predicted),
              reasons.explain(i, action, trial.airMm[i]));
    }
    Double[] center = new Double[model.frequencies];
    Arrays.setAll(center, k -> model.wrapIfModulo(model.baseDeg[k] + centerDeg[k]));
    return new SetSolution(
        trial.replaced > 0
            ? Outcome.NEEDS_REPLACEMENT
            : trial.adjusted > 0 ? Outcome.ADJUSTABLE : Outcome.MATCHED,
        List.of(center),
        trial.replaced,
        trial.adjusted,
        totalMm,
        proven,
        List.of(plans));
  }
}
