package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.matching.CutPlan.Prediction;
import org.equiphase.matching.CutPlan.Reason;
import org.equiphase.matching.CutProblem.Spot;
import org.equiphase.matching.Landing.Chance;
import org.equiphase.rf.VelocityFactor;

/**
 * Plans a cut under uncertainty.
 *
 * <p>To first order the uncertainty of the cut and that of the velocity factor v are one error of
 * the length removed, λ ~ N(0, u(cut)² + (d·u(v)/v)²), common to all frequencies; each reading adds
 * an error of its own. Given λ the frequencies are independent, so a probability over all of them
 * is an average of products over λ alone; it is good to 1e-8.
 *
 * <p>The cut planned is the one of highest probability in tolerance whose probability of ending too
 * short keeps the limit. Where that is short of the best cut, the plan is staged: cut, measure
 * again, plan the next cut from the new reading alone by the same rule, and stop when measured
 * within the acceptance limits or too short, or when no cut is left.
 */
public final class CutPlanner {

  /** Limits are inclusive, to within this. */
  private static final double SLACK_DEG = 1e-9;

  private static final double SLACK_MM = 1e-9;

  /** Coverage factor within which a reading's error may explain that no length suits. */
  private static final double EXPANDED = 2;

  private CutPlanner() {}

  /** The cut to instruct now. Deterministic: equal problems get equal plans. */
  public static CutPlan plan(CutProblem problem) {
    return new Planning(problem).plan();
  }

  /**
   * Probability that an assembly that is left as it is lies within its tolerance at every
   * frequency, given its reading (JCGM 106:2012, clause 7; the frequencies' reading errors
   * independent).
   *
   * @param spots the reading; its acceptance limits are not used
   * @param toleranceDeg tolerance about zero at each frequency, above 0
   * @throws InvalidProblemException naming the field
   */
  public static double probabilityIn(List<Spot> spots, List<Double> toleranceDeg) {
    List<Spot> checked = SetProblem.copy(spots);
    List<Double> tolerances = SetProblem.copy(toleranceDeg);
    Spot.check(checked);
    if (tolerances.size() != checked.size()) {
      throw ProblemCheck.refuse(
          "toleranceDeg",
          "must hold one value per frequency: " + checked.size() + ", not " + tolerances.size());
    }
    double probability = 1;
    for (int k = 0; k < checked.size(); k++) {
      Double tolerance = tolerances.get(k);
      if (tolerance == null || !(tolerance > 0 && tolerance < Double.POSITIVE_INFINITY)) {
        throw ProblemCheck.refuse(
            "toleranceDeg[" + k + "]", "must be a number above 0, not " + tolerance);
      }
      Spot spot = checked.get(k);
      probability *=
          between(
              -tolerance, tolerance, spot.phaseErrorDeg(), spot.readingStandardUncertaintyDeg());
    }
    return probability;
  }

  /** Probability that a normally distributed value lies between two limits, inclusive. */
  private static double between(double low, double high, double mean, double sd) {
    if (sd == 0) {
      return mean >= low - SLACK_DEG && mean <= high + SLACK_DEG ? 1 : 0;
    }
    // On the side of the lower tail, where small probabilities keep their digits.
    double sign = mean > 0 ? -1 : 1;
    double a = (sign > 0 ? low - mean : mean - high) / sd;
    double b = (sign > 0 ? high - mean : mean - low) / sd;
    return StandardNormal.cdf(b) - StandardNormal.cdf(a);
  }

  /** One problem on its way to its plan. */
  private static final class Planning {

    private final CutProblem problem;
    private final Landing landing;
    private final Aim aim;

    Planning(CutProblem problem) {
      this.problem = problem;
      VelocityFactorEstimate estimate = problem.velocityFactor();
      landing = Landing.of(problem.spots(), VelocityFactor.of(estimate.velocityFactor()));
      aim =
          new Aim(
              landing,
              problem.cutStandardUncertaintyMm(),
              estimate.standardUncertainty() / estimate.velocityFactor());
    }

    CutPlan plan() {
      if (landing.leastMm(EXPANDED) > landing.greatestMm(EXPANDED) + SLACK_MM) {
        return none(Reason.NOT_A_PURE_DELAY, 0);
      }
      double least = landing.leastMm(0);
      double greatest = landing.greatestMm(0);
      if (greatest < -SLACK_MM) {
        return none(Reason.TOO_SHORT, 0);
      }
      if (least <= SLACK_MM) {
        return none(Reason.WITHIN_LIMIT, 0);
      }
      double allowance = problem.trimAllowanceMm();
      double step = problem.cutResolutionMm();
      double longest = step == 0 ? allowance : floor(allowance);
      double needed = least <= greatest ? least : aim.bestMm(ProblemCheck.LONGEST_MM);
      if (longest < needed - SLACK_MM) {
        return none(Reason.ALLOWANCE, aim.bestMm(ProblemCheck.LONGEST_MM));
      }
      double best = aim.bestMm(longest);
      double limit = aim.limitMm(problem.tooShortLimit(), longest);
      double aimMm = onGrid(best, longest);
      if (Double.isNaN(limit)) {
        return none(Reason.TOO_RISKY, aimMm);
      }
      double cut = aimMm <= limit ? aimMm : step == 0 ? limit : floor(limit);
      if (!(cut > 0)) {
        return none(step == 0 ? Reason.TOO_RISKY : Reason.STEP_TOO_COARSE, aimMm);
      }
      CutForecast forecast = CutForecast.of(problem, landing, aim, cut);
      Chance chance = aim.chance(cut);
      return new CutPlan(
          cut < aimMm ? Reason.STAGED : Reason.CUT,
          cut,
          cut < aimMm,
          aimMm,
          chance.in(),
          chance.tooShort(),
          chance.tooLong(),
          forecast.cuts(),
          forecast.in(),
          forecast.tooShort(),
          problem.cutStandardUncertaintyMm(),
          velocityFactorMm(cut),
          predictions(cut));
    }

    /** The better of the two grid lengths around the best one; at least one step. */
    private double onGrid(double bestMm, double longestMm) {
      double step = problem.cutResolutionMm();
      if (step == 0) {
        return bestMm;
      }
      double below = floor(bestMm);
      double above = grid(Math.rint(below / step) + 1);
      if (below <= 0) {
        return above;
      }
      return above > longestMm + step / 2 || aim.chance(below).in() >= aim.chance(above).in()
          ? below
          : above;
    }

    private double floor(double lengthMm) {
      return grid(Math.floor(lengthMm / problem.cutResolutionMm() + 1e-9));
    }

    /** A whole number of steps, without the noise of binary fractions. */
    private double grid(double steps) {
      return Math.rint(steps * problem.cutResolutionMm() * 1e9) / 1e9;
    }

    private double velocityFactorMm(double cutMm) {
      VelocityFactorEstimate estimate = problem.velocityFactor();
      return cutMm * estimate.standardUncertainty() / estimate.velocityFactor();
    }

    private CutPlan none(Reason reason, double aimMm) {
      Chance chance = landing.after(0, 0);
      return new CutPlan(
          reason,
          0,
          false,
          aimMm,
          chance.in(),
          chance.tooShort(),
          chance.tooLong(),
          0,
          chance.in(),
          chance.tooShort(),
          0,
          0,
          predictions(0));
    }

    private List<Prediction> predictions(double cutMm) {
      List<Prediction> predictions = new ArrayList<>();
      for (int k = 0; k < landing.size; k++) {
        Spot spot = problem.spots().get(k);
        double slope = landing.degPerMm[k];
        double fromCut = cutMm == 0 ? 0 : slope * problem.cutStandardUncertaintyMm();
        double fromVelocityFactor = slope * velocityFactorMm(cutMm);
        double fromReading = spot.readingStandardUncertaintyDeg();
        predictions.add(
            new Prediction(
                spot.frequencyHz(),
                slope,
                spot.phaseErrorDeg() + slope * cutMm,
                Math.hypot(Math.hypot(fromCut, fromVelocityFactor), fromReading),
                fromCut,
                fromVelocityFactor,
                fromReading));
      }
      return predictions;
    }
  }
}
