package org.equiphase.array;

import java.util.Arrays;
import java.util.OptionalDouble;
import org.equiphase.array.Layout.Value;

/**
 * Peak and sidelobes of |AF|² in −1 ≤ u ≤ 1. The main lobe ends at the first local minimum on each
 * side of the peak, or at the end of the visible space; the ends count as sidelobes where they lie
 * outside it.
 *
 * @param peakU u of the highest point; of equal ones (grating lobes) the nearest to the steering
 * @param peakPower |AF|² there
 * @param sidelobePower highest |AF|² outside the main lobe; empty where nothing lies outside
 */
record LinearLobes(double peakU, double peakPower, OptionalDouble sidelobePower) {
  // A top lies at most half a step off the grid, which costs 1 − cos²(π/32), 1 %.
  private static final double GRID_SHARE = 0.97;
  private static final double SAME_POWER = 1e-10;
  private static final double FLAT = 1e-12;
  private static final double NOTHING = 1e-22;
  private static final double SAME_U = 1e-9;
  private static final double SETTLED = 1e-13;
  private static final int MOST_STEPS = 80;

  static LinearLobes of(Layout layout, double[] re, double[] im, double u0) {
    return new Search(layout, re, im).lobes(u0);
  }

  private static final class Search {
    private final Layout layout;
    private final double[] re;
    private final double[] im;
    private final double[] u;
    private final double[] power;

    Search(Layout layout, double[] re, double[] im) {
      this.layout = layout;
      this.re = re;
      this.im = im;
      u = layout.grid();
      power = layout.gridPower(re, im);
    }

    LinearLobes lobes(double u0) {
      double highest = 0;
      double lowest = Double.POSITIVE_INFINITY;
      for (double p : power) {
        highest = Math.max(highest, p);
        lowest = Math.min(lowest, p);
      }
      if (highest - lowest <= FLAT * highest) {
        return new LinearLobes(u0, at(u0).power(), OptionalDouble.empty());
      }
      double peakU = u0;
      double peakPower = 0;
      for (int i = 0; i < u.length; i++) {
        if (power[i] >= GRID_SHARE * highest && isTop(power, i)) {
          double topU = top(u, power, i);
          double topPower = at(topU).power();
          boolean same = Math.abs(topPower - peakPower) <= SAME_POWER * topPower;
          if (same ? Math.abs(topU - u0) < Math.abs(peakU - u0) : topPower > peakPower) {
            peakU = topU;
            peakPower = topPower;
          }
        }
      }
      double below = sidelobe(-1, lobeEnd(peakU, peakPower, -1));
      double above = sidelobe(lobeEnd(peakU, peakPower, 1), 1);
      double sidelobe = Math.max(below, above);
      return new LinearLobes(
          peakU,
          peakPower,
          sidelobe > NOTHING * peakPower ? OptionalDouble.of(sidelobe) : OptionalDouble.empty());
    }

    private Value at(double u) {
      return layout.at(u, re, im);
    }

    /** Whether a value is no lower than its neighbours; the ends have one each. */
    private static boolean isTop(double[] values, int i) {
      return (i == 0 || values[i] >= values[i - 1])
          && (i == values.length - 1 || values[i] >= values[i + 1]);
    }

    /** u of the local maximum beside a point that is higher than its neighbours. */
    private double top(double[] points, double[] values, int i) {
      double turn = turn(points[Math.max(i - 1, 0)], points[Math.min(i + 1, points.length - 1)], 1);
      return at(turn).power() > values[i] ? turn : points[i];
    }

    /** The first local minimum from the peak on in a direction (±1), or the end of u. */
    private double lobeEnd(double peakU, double peakPower, int direction) {
      double beforeLast = peakU;
      double last = peakU;
      double lastPower = peakPower;
      double lastDrop = 0;
      boolean flattening = false;
      for (int i = next(peakU, direction); i >= 0 && i < u.length; i += direction) {
        double drop = lastPower - power[i];
        if (drop < 0) {
          return turn(beforeLast, u[i], -1);
        }
        if (flattening && drop > lastDrop) {
          // A shoulder; it may hide a minimum and a maximum between two points.
          double flattest = inflection(beforeLast, u[i]);
          if (direction * at(flattest).slope() >= 0) {
            return turn(beforeLast, flattest, -1);
          }
        }
        flattening = drop < lastDrop;
        lastDrop = drop;
        lastPower = power[i];
        beforeLast = last;
        last = u[i];
      }
      return direction * at(direction).slope() > 0 ? turn(beforeLast, direction, -1) : direction;
    }

    /** Index of the first grid point beyond a place. */
    private int next(double place, int direction) {
      int found = Arrays.binarySearch(u, place);
      int above = found >= 0 ? found + 1 : -found - 1;
      int below = found >= 0 ? found - 1 : -found - 2;
      return direction > 0 ? above : below;
    }

    /** Where |AF|² falls least steeply between two points of a falling flank. */
    private double inflection(double one, double other) {
      double from = Math.min(one, other);
      double to = Math.max(one, other);
      // The slope of a rising u has its extremum where the curvature changes sign.
      boolean positive = at(from).curvature() > 0;
      for (int i = 0; i < MOST_STEPS; i++) {
        double middle = (from + to) / 2;
        if (at(middle).curvature() > 0 == positive) {
          from = middle;
        } else {
          to = middle;
        }
      }
      return (from + to) / 2;
    }

    /** Highest power from one point to another; 0 where they are the same. */
    private double sidelobe(double from, double to) {
      if (to - from < SAME_U) {
        return 0;
      }
      double[] points = new double[u.length + 2];
      double[] values = new double[points.length];
      int count = 0;
      points[count] = from;
      values[count++] = at(from).power();
      for (int i = 0; i < u.length; i++) {
        if (u[i] > from && u[i] < to) {
          points[count] = u[i];
          values[count++] = power[i];
        }
      }
      points[count] = to;
      values[count++] = at(to).power();
      points = Arrays.copyOf(points, count);
      values = Arrays.copyOf(values, count);
      double highest = Arrays.stream(values).max().orElse(0);
      double floor = GRID_SHARE * highest;
      for (int i = 0; i < count; i++) {
        if (values[i] >= floor && isTop(values, i)) {
          highest = Math.max(highest, at(top(points, values, i)).power());
        }
      }
      return highest;
    }

    /**
     * The local maximum (sign 1) or minimum (sign −1) between two points, by Newton's method kept
     * inside them; one of the points where |AF|² rises or falls all the way.
     */
    private double turn(double one, double other, int sign) {
      double from = Math.min(one, other);
      double to = Math.max(one, other);
      double x = (from + to) / 2;
      for (int i = 0; i < MOST_STEPS; i++) {
        Value here = at(x);
        if (sign * here.slope() > 0) {
          from = x;
        } else {
          to = x;
        }
        double next = x - here.slope() / here.curvature();
        if (!(next > from && next < to)) {
          next = (from + to) / 2;
        }
        if (Math.abs(next - x) <= SETTLED) {
          return next;
        }
        x = next;
      }
      return x;
    }
  }
}
