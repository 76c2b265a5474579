package org.equiphase.array;

import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;
import org.apache.commons.statistics.distribution.BetaDistribution;
import org.equiphase.rf.InvalidQuantityException;

/**
 * The phase tolerance that keeps the peak sidelobe of a linear array at or below a limit with a
 * given probability. Found by simulation: random errors, drawn once, are scaled up until the share
 * of arrays within the limit falls to the probability; the same draws serve every scale, so the
 * share is smooth enough to bisect. Fresh draws then estimate the probability at the answer. The
 * same seed gives the same answer.
 *
 * @param toleranceDeg the tolerance T, degrees: errors lie within ±T (uniform), or T is their
 *     standard deviation (normal)
 * @param anyErrorWillDo true where even T = 180° holds the limit, which is then the answer
 * @param probability share of fresh trials within the limit at T
 * @param probabilityLower lower end of the 95 % confidence interval of that share (C. J. Clopper
 *     and E. S. Pearson, Biometrika 26, 1934)
 * @param probabilityUpper upper end
 * @param idealPeakSidelobeDb peak sidelobe without errors, dB; empty where there is none
 */
public record ToleranceDesign(
    double toleranceDeg,
    boolean anyErrorWillDo,
    double probability,
    double probabilityLower,
    double probabilityUpper,
    OptionalDouble idealPeakSidelobeDb) {

  private static final double WIDEST_DEG = 180;
  private static final double RELATIVE_STEP = 5e-4;
  private static final double LEAST_STEP_DEG = 1e-6;
  private static final double EITHER_SIDE = 0.025;
  private static final int LEAST_TRIALS = 100;
  private static final double MOST_TERMS = 1e8;

  /**
   * What is asked of a design.
   *
   * @param distribution how the errors spread
   * @param sidelobeLimitDb highest peak sidelobe allowed, against the peak, dB, below 0
   * @param probability share of arrays that must hold the limit, 0.01 to 0.999
   * @param trials number of simulated arrays, 100 up to {@link #mostTrials}
   * @param seed start of the random numbers
   */
  public record Goal(
      ErrorDistribution distribution,
      double sidelobeLimitDb,
      double probability,
      int trials,
      long seed) {
    public Goal {
      if (!(sidelobeLimitDb < 0) || Double.isInfinite(sidelobeLimitDb)) {
        throw new InvalidQuantityException(
            "sidelobeLimitDb",
            "sidelobeLimitDb is a level against the peak and must be finite and below 0 dB, not "
                + sidelobeLimitDb);
      }
      Checks.within("probability", probability, 0.01, 0.999);
      if (trials < LEAST_TRIALS) {
        throw new InvalidQuantityException(
            "trials", "trials must be " + LEAST_TRIALS + " or more, not " + trials);
      }
    }
  }

  /**
   * Designs the tolerance.
   *
   * @param steerDeg direction from broadside, degrees, −90 to 90
   * @throws InvalidQuantityException for {@code sidelobeLimitDb} where the array without errors
   *     exceeds it, for {@code trials} where they are too many for so large an array, and for
   *     {@code steerDeg}
   */
  public static ToleranceDesign of(LinearArray array, double steerDeg, Goal goal) {
    double u0 = ArrayEffect.steeredU(steerDeg);
    int most = mostTrials(array);
    if (goal.trials > most) {
      throw new InvalidQuantityException(
          "trials",
          most < LEAST_TRIALS
              ? "the array is too large to be simulated; fewer elements or a shorter line will do"
              : "trials may be up to " + most + " for this array, not " + goal.trials);
    }
    OptionalDouble idealDb = ArrayEffect.sidelobeDb(array.lobes(u0, new double[array.elements()]));
    if (idealDb.isPresent() && idealDb.getAsDouble() > goal.sidelobeLimitDb) {
      throw new InvalidQuantityException(
          "sidelobeLimitDb",
          "sidelobeLimitDb "
              + goal.sidelobeLimitDb
              + " lies below the error-free array's own "
              + idealDb.getAsDouble()
              + " dB; allow more, or choose a taper with lower sidelobes");
    }
    SplittableRandom random = new SplittableRandom(goal.seed);
    double[][] draws = draws(random, array.elements(), goal);
    boolean anyErrorWillDo = share(array, u0, draws, WIDEST_DEG, goal) >= goal.probability;
    double tolerance = anyErrorWillDo ? WIDEST_DEG : largestWithin(array, u0, draws, goal);

    double[][] fresh = draws(random, array.elements(), goal);
    long within = count(goal.trials, t -> isWithin(array, u0, fresh[t], tolerance, goal));
    long beyond = goal.trials - within;
    return new ToleranceDesign(
        tolerance,
        anyErrorWillDo,
        within / (double) goal.trials,
        within == 0 ? 0 : betaQuantile(within, beyond + 1, EITHER_SIDE),
        beyond == 0 ? 1 : betaQuantile(within + 1, beyond, 1 - EITHER_SIDE),
        idealDb);
  }

  /** The largest number of trials that an array allows: fewer for a larger one. */
  public static int mostTrials(LinearArray array) {
    return (int) (MOST_TERMS / array.terms());
  }

  private static double largestWithin(LinearArray array, double u0, double[][] draws, Goal goal) {
    double low = 0;
    double high = WIDEST_DEG;
    while (high - low > Math.max(LEAST_STEP_DEG, RELATIVE_STEP * low)) {
      double middle = (low + high) / 2;
      if (share(array, u0, draws, middle, goal) >= goal.probability) {
        low = middle;
      } else {
        high = middle;
      }
    }
    return low;
  }

  private static double[][] draws(SplittableRandom random, int elements, Goal goal) {
    double[][] draws = new double[goal.trials][elements];
    for (double[] draw : draws) {
      for (int n = 0; n < elements; n++) {
        draw[n] = goal.distribution.quantile(random.nextDouble(Double.MIN_NORMAL, 1));
      }
    }
    return draws;
  }

  private static double share(
      LinearArray array, double u0, double[][] draws, double toleranceDeg, Goal goal) {
    long within = count(goal.trials, t -> isWithin(array, u0, draws[t], toleranceDeg, goal));
    return within / (double) goal.trials;
  }

  private static long count(int trials, IntPredicate isWithin) {
    return IntStream.range(0, trials).parallel().filter(isWithin).count();
  }

  private static boolean isWithin(
      LinearArray array, double u0, double[] draw, double toleranceDeg, Goal goal) {
    double[] errorDeg = new double[draw.length];
    for (int n = 0; n < errorDeg.length; n++) {
      errorDeg[n] = toleranceDeg * draw[n];
    }
    OptionalDouble sidelobeDb = ArrayEffect.sidelobeDb(array.lobes(u0, errorDeg));
    return sidelobeDb.isEmpty() || sidelobeDb.getAsDouble() <= goal.sidelobeLimitDb;
  }

  private static double betaQuantile(double a, double b, double share) {
    return BetaDistribution.of(a, b).inverseCumulativeProbability(share);
  }
}
