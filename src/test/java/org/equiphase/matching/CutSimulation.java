package org.equiphase.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.equiphase.matching.CutProblem.Spot;

/**
 * A shop that cuts by plan: velocity factor, cut lengths and readings drawn at random, phases from
 * the physics itself, 360·f·d/(v·c), not from the planner's first-order sums.
 */
final class CutSimulation {

  private static final double C_MM_PER_S = 299_792_458e3;

  private final CutProblem problem;
  private final SplittableRandom random;

  int runs;
  int in;
  int tooShort;
  int inAfterFirst;
  int tooShortAfterFirst;
  long cuts;
  private long squaredCuts;

  CutSimulation(CutProblem problem, long seed) {
    this.problem = problem;
    random = new SplittableRandom(seed);
  }

  /** Standard deviation of the number of cuts of one assembly. */
  double cutsSd() {
    double mean = cuts / (double) runs;
    return Math.sqrt(Math.max(0, squaredCuts / (double) runs - mean * mean));
  }

  void run(int times, CutPlan plan) {
    for (int i = 0; i < times; i++) {
      once(plan);
    }
  }

  private void once(CutPlan plan) {
    runs++;
    int size = problem.spots().size();
    double v =
        normal(
            problem.velocityFactor().velocityFactor(),
            problem.velocityFactor().standardUncertainty());
    double[] errorDeg = new double[size];
    for (int k = 0; k < size; k++) {
      Spot spot = problem.spots().get(k);
      errorDeg[k] = normal(spot.phaseErrorDeg(), spot.readingStandardUncertaintyDeg());
    }
    double cutMm = plan.cutMm();
    double allowanceMm = problem.trimAllowanceMm();
    for (int made = 1; ; made++) {
      double offMm = normal(cutMm, problem.cutStandardUncertaintyMm());
      allowanceMm -= cutMm;
      cuts++;
      for (int k = 0; k < size; k++) {
        errorDeg[k] += 360 * problem.spots().get(k).frequencyHz() * offMm / (v * C_MM_PER_S);
      }
      if (made == 1) {
        inAfterFirst += in(errorDeg) ? 1 : 0;
        tooShortAfterFirst += tooShort(errorDeg) ? 1 : 0;
      }
      cutMm = made == problem.maxCuts() ? 0 : next(errorDeg, allowanceMm, problem.maxCuts() - made);
      if (cutMm == 0) {
        in += in(errorDeg) ? 1 : 0;
        tooShort += tooShort(errorDeg) ? 1 : 0;
        squaredCuts += (long) made * made;
        return;
      }
    }
  }

  /** Reads anew and plans by the reading; 0 to stop. */
  private double next(double[] errorDeg, double allowanceMm, int cutsLeft) {
    List<Spot> read = new ArrayList<>();
    boolean within = true;
    for (int k = 0; k < errorDeg.length; k++) {
      Spot spot = problem.spots().get(k);
      double seen = normal(errorDeg[k], spot.readingStandardUncertaintyDeg());
      within &= Math.abs(seen) <= spot.acceptanceDeg();
      read.add(
          new Spot(
              spot.frequencyHz(),
              seen,
              spot.acceptanceDeg(),
              spot.readingStandardUncertaintyDeg()));
    }
    if (within) {
      return 0;
    }
    return CutPlanner.plan(
            new CutProblem(
                read,
                problem.velocityFactor(),
                problem.cutStandardUncertaintyMm(),
                problem.cutResolutionMm(),
                Math.max(0, allowanceMm),
                problem.tooShortLimit(),
                cutsLeft))
        .cutMm();
  }

  private boolean in(double[] errorDeg) {
    for (int k = 0; k < errorDeg.length; k++) {
      if (Math.abs(errorDeg[k]) > problem.spots().get(k).acceptanceDeg()) {
        return false;
      }
    }
    return true;
  }

  private boolean tooShort(double[] errorDeg) {
    for (int k = 0; k < errorDeg.length; k++) {
      if (errorDeg[k] > problem.spots().get(k).acceptanceDeg()) {
        return true;
      }
    }
    return false;
  }

  /** Box and Muller's method. */
  private double normal(double mean, double sd) {
    double radius = Math.sqrt(-2 * Math.log(1 - random.nextDouble()));
    return mean + sd * radius * Math.cos(2 * Math.PI * random.nextDouble());
  }
}
