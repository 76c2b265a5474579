package org.equiphase.metrology;

import org.equiphase.rf.Require;
import org.jspecify.annotations.Nullable;

/**
 * The verdict on one measured value against its tolerance, with the probability that the true value
 * lies inside it (normal distribution, JCGM 106:2012, clause 7).
 *
 * @param probability that the true value conforms, 0 to 1
 * @param acceptedSimple whether the value lies within the limits (simple acceptance, JCGM 106, 8.2)
 * @param acceptedGuarded whether it lies within the acceptance limits (guarded acceptance, JCGM
 *     106, 8.3.2)
 * @param acceptanceLower lower limit moved up by the guard band; null where there is no such limit
 *     or the acceptance limits cross
 * @param acceptanceUpper upper limit moved down by the guard band; null likewise
 */
public record Conformity(
    double probability,
    boolean acceptedSimple,
    boolean acceptedGuarded,
    @Nullable Double acceptanceLower,
    @Nullable Double acceptanceUpper) {

  /** Limits are inclusive to within this many steps of a double, so that 1.4 − 0.1 accepts 1.3. */
  private static final int ROUNDING_STEPS = 4;

  /**
   * Judges a value. The guard band is w = guardFactor·U with U = 2·u (JCGM 106, 8.3.2; ISO 14253-1
   * for the factor: 1 gives a risk of 2.3 % at the limit, 0.83 about 5 %). Where the acceptance
   * limits cross nothing is accepted. All values are in one unit.
   *
   * @param value measured value, finite
   * @param standardUncertainty u, 0 or more; with 0 the probability is 0 or 1
   * @param lower lower tolerance limit, or null; at least one limit must be given
   * @param upper upper tolerance limit, or null; not below {@code lower}
   * @param guardFactor r, 0 or more; 0 is simple acceptance
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks these rules
   */
  public static Conformity of(
      double value,
      double standardUncertainty,
      @Nullable Double lower,
      @Nullable Double upper,
      double guardFactor) {
    Require.finite("value", value);
    Require.notNegative("standardUncertainty", standardUncertainty);
    checkLimits(lower, upper);
    Require.notNegative("guardFactor", guardFactor);
    double guard = guardFactor * 2 * standardUncertainty;
    Require.finiteResult("standardUncertainty", guard);
    double low = lower == null ? Double.NEGATIVE_INFINITY : lower;
    double high = upper == null ? Double.POSITIVE_INFINITY : upper;
    Double acceptanceLower = lower == null ? null : Require.finiteResult("lower", lower + guard);
    Double acceptanceUpper = upper == null ? null : Require.finiteResult("upper", upper - guard);
    double slack = slack(value, guard, lower, upper);
    boolean crossed = low + guard > high - guard + slack;
    return new Conformity(
        Normal.inside(value, standardUncertainty, low, high),
        liesWithin(value, low, high, slack),
        !crossed && liesWithin(value, low + guard, high - guard, slack),
        crossed ? null : acceptanceLower,
        crossed ? null : acceptanceUpper);
  }

  /**
   * Probability that several errors all lie within their limits, where they share a common part:
   * x_k = mean_k + s_k·c + e_k with c normal (0, common) and e_k normal (0, independent_k), all
   * independent of each other. Given c the errors are independent, so the product of their
   * probabilities is integrated over c, to an absolute accuracy of 1e-9; without a common part it
   * is the plain product. All arrays have one entry per error; units are those of the errors.
   *
   * @param mean expected errors, finite
   * @param commonStandardDeviation of c, 0 or more
   * @param sensitivity s_k, change of error k per unit of c, finite
   * @param independentStandardDeviation of each e_k, 0 or more
   * @param lower lower limits, −∞ for none
   * @param upper upper limits, +∞ for none; where below the lower one the probability is 0
   * @throws org.equiphase.rf.InvalidQuantityException for an array of another length, or a value
   *     that breaks these rules
   */
  public static double jointProbability(
      double[] mean,
      double commonStandardDeviation,
      double[] sensitivity,
      double[] independentStandardDeviation,
      double[] lower,
      double[] upper) {
    return new JointProbability(
            mean, commonStandardDeviation, sensitivity, independentStandardDeviation, lower, upper)
        .value();
  }

  private static void checkLimits(@Nullable Double lower, @Nullable Double upper) {
    if (lower != null) {
      Require.finite("lower", lower);
    }
    if (upper != null) {
      Require.finite("upper", upper);
    }
    if (lower == null && upper == null) {
      throw Require.refuse("lower", "and upper are both missing; give at least one limit");
    }
    if (lower != null && upper != null && lower > upper) {
      throw Require.refuse("lower", "must not lie above upper: " + lower + " > " + upper);
    }
  }

  private static boolean liesWithin(double value, double low, double high, double slack) {
    return value >= low - slack && value <= high + slack;
  }

  private static double slack(
      double value, double guard, @Nullable Double lower, @Nullable Double upper) {
    double largest = Math.max(Math.abs(value), guard);
    largest = lower == null ? largest : Math.max(largest, Math.abs(lower));
    largest = upper == null ? largest : Math.max(largest, Math.abs(upper));
    return ROUNDING_STEPS * Math.ulp(largest);
  }
}
