package org.equiphase.matching;

import java.util.function.DoubleUnaryOperator;
import org.equiphase.matching.Landing.Chance;

/**
 * The two lengths that a cut is chosen from: the one of highest probability in tolerance, and the
 * longest that keeps the limit on cutting too short. How uncertain the length removed is depends on
 * the length: sd² = cut² + (share·d)².
 */
final class Aim {

  private static final double TOLERANCE_MM = 1e-6;

  /** Balance of gain and loss that is as good as even. */
  private static final double EVEN = 1e-4;

  /** Stands for a balance too lopsided to compute. */
  private static final double FAR = 100;

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
    return landing.after(lengthMm, sdMm(lengthMm));
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
    double start = Math.max(low, Math.min(high, landing.middleMm()));
    return fallingRoot(this::balance, low, high, start, EVEN);
  }

  private double balance(double lengthMm) {
    double sd = sdMm(lengthMm);
    double balance = landing.balance(lengthMm, sd, sd == 0 ? 0 : share * share * lengthMm / sd);
    // Too far off to tell: towards the middle of the window.
    return Double.isNaN(balance)
        ? Math.copySign(FAR, landing.middleMm() - lengthMm)
        : Math.max(-FAR, Math.min(FAR, balance));
  }

  /** The greatest length up to a bound that keeps the limit on cutting too short; NaN for none. */
  double limitMm(double tooShortLimit, double boundMm) {
    double quantile = StandardNormal.quantile(tooShortLimit);
    DoubleUnaryOperator margin =
        length ->
            quantile - StandardNormal.quantile(clamp(landing.tooShortAfter(length, sdMm(length))));
    double length = fallingRoot(margin, 0, boundMm, boundMm, 0);
    if (length == 0 && margin.applyAsDouble(0) < 0) {
      return Double.NaN;
    }
    for (double back = TOLERANCE_MM; length > 0 && margin.applyAsDouble(length) < 0; back *= 2) {
      length = Math.max(0, length - back);
    }
    return length;
  }

  private static double clamp(double probability) {
    return Math.max(1e-15, Math.min(1 - 1e-15, probability));
  }

  /**
   * The root of a falling function by regula falsi (Illinois); an end of the bracket where the
   * function has one sign only.
   *
   * @param guess within the bracket
   * @param nil value that is as good as 0
   */
  private static double fallingRoot(
      DoubleUnaryOperator function, double from, double to, double guess, double nil) {
    double low = from;
    double high = to;
    double value = function.applyAsDouble(guess);
    if (Math.abs(value) <= nil) {
      return guess;
    }
    double atLow = value;
    double atHigh = value;
    if (value > 0) {
      low = guess;
      atHigh = function.applyAsDouble(high);
      if (!(atHigh < 0)) {
        return high;
      }
    } else {
      high = guess;
      atLow = function.applyAsDouble(low);
      if (!(atLow > 0)) {
        return low;
      }
    }
    double last = guess;
    int side = 0;
    for (int round = 1; round < MOST_ROUNDS; round++) {
      double straight = (low * atHigh - high * atLow) / (atHigh - atLow);
      double next = round % 6 == 0 ? (low + high) / 2 : straight;
      value = function.applyAsDouble(next);
      if (Math.abs(value) <= nil || Math.abs(next - last) < TOLERANCE_MM) {
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
      last = next;
    }
    return last;
  }
}
