package org.equiphase.matching;

import java.util.function.DoubleUnaryOperator;
import org.equiphase.matching.Landing.Chance;

/**
 * The two lengths that a cut is chosen from: the one of highest probability in tolerance, and the
 * longest that keeps the limit on cutting too short. How uncertain the length removed is depends on
 * the length: sd² = cut² + (share·d)².
 */
final class Aim {

  private static final double TOLERANCE_MM = 1e-7;
  private static final int MOST_ROUNDS = 80;

  private final Landing landing;
  private final double cutMm;
  private final double share;

  /**
   * @param cutMm standard uncertainty of the cut
   * @param share relative standard uncertainty of the velocity factor
   */
  Aim(Landing landing, double cutMm, double share) {
    this.landing = landing;
    this.cutMm = cutMm;
    this.share = share;
  }

  double sdMm(double lengthMm) {
    return Math.hypot(cutMm, share * lengthMm);
  }

  Chance chance(double lengthMm) {
    double sd = sdMm(lengthMm);
    return landing.after(lengthMm, sd, sd == 0 ? 0 : share * share * lengthMm / sd);
  }

  /**
   * The length of highest probability in tolerance, not above the greatest allowed. It lies between
   * the lengths that bring single frequencies to zero, or below where a shorter cut is a surer one.
   */
  double bestMm(double greatestMm) {
    double high = 0;
    double low = Double.POSITIVE_INFINITY;
    for (int k = 0; k < landing.size; k++) {
      double middle = landing.middleMm(k);
      high = Math.max(high, middle);
      low = Math.min(low, middle - Math.abs(landing.halfWidthMm(k)));
    }
    high = Math.min(high, greatestMm);
    low = Math.max(0, Math.min(low, high));
    double middle = Math.max(low, Math.min(high, landing.middleMm()));
    Chance start = chance(middle);
    if (start.in() > 1 - 1e-12) {
      return middle;
    }
    return fallingRoot(this::logSlope, low, high, middle);
  }

  private double logSlope(double lengthMm) {
    Chance chance = chance(lengthMm);
    if (chance.in() < 1e-280) {
      // Too far off to tell: towards the middle of the window.
      return Math.copySign(Double.MAX_VALUE, landing.middleMm() - lengthMm);
    }
    return chance.slopePerMm() / chance.in();
  }

  /** The greatest length up to a bound that keeps the limit on cutting too short; NaN for none. */
  double limitMm(double tooShortLimit, double boundMm) {
    double quantile = StandardNormal.quantile(tooShortLimit);
    DoubleUnaryOperator margin =
        length -> quantile - StandardNormal.quantile(clamp(chance(length).tooShort()));
    if (margin.applyAsDouble(0) < 0) {
      return Double.NaN;
    }
    if (margin.applyAsDouble(boundMm) >= 0) {
      return boundMm;
    }
    double length = fallingRoot(margin, 0, boundMm, Double.NaN);
    while (length > 0 && chance(length).tooShort() > tooShortLimit) {
      length = Math.max(0, length - TOLERANCE_MM);
    }
    return length;
  }

  private static double clamp(double probability) {
    return Math.max(1e-15, Math.min(1 - 1e-15, probability));
  }

  /** The root of a falling function by regula falsi (Illinois), kept within its bracket. */
  private static double fallingRoot(
      DoubleUnaryOperator function, double from, double to, double guess) {
    double low = from;
    double high = to;
    double atLow = function.applyAsDouble(low);
    if (!(atLow > 0)) {
      return low;
    }
    double atHigh = function.applyAsDouble(high);
    if (!(atHigh < 0)) {
      return high;
    }
    double next = guess;
    int side = 0;
    for (int round = 0; round < MOST_ROUNDS && high - low > TOLERANCE_MM; round++) {
      if (!(next > low && next < high)) {
        double straight = (low * atHigh - high * atLow) / (atHigh - atLow);
        next = straight > low && straight < high && round % 4 != 3 ? straight : (low + high) / 2;
      }
      double value = function.applyAsDouble(next);
      if (value == 0) {
        return next;
      }
      if (Math.abs(value) < 1e-12) {
        return next;
      }
      if (value > 0) {
        low = next;
        atLow = value;
        atHigh = side > 0 ? atHigh / 2 : atHigh;
        side = 1;
      } else {
        high = next;
        atHigh = value;
        atLow = side < 0 ? atLow / 2 : atLow;
        side = -1;
      }
      next = Double.NaN;
    }
    return (low + high) / 2;
  }
}
