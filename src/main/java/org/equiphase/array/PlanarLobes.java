package org.equiphase.array;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import org.equiphase.array.PlanarLayout.Value;
import org.jspecify.annotations.Nullable;

/**
 * Peak and sidelobes of |AF|² in the visible space u² + v² ≤ 1. A sidelobe is any local maximum
 * other than the peak; one on the rim counts where |AF| rises towards it.
 *
 * @param peak the highest maximum; of equal ones (grating lobes) the nearest to the steering
 * @param sidelobePower |AF|² of the next one; empty where there is none
 */
record PlanarLobes(Maximum peak, OptionalDouble sidelobePower) {
  /** A local maximum of |AF|². */
  record Maximum(double u, double v, double power) {
    double distance(double otherU, double otherV) {
      return Math.hypot(u - otherU, v - otherV);
    }
  }

  // A top lies at most half a step off the grid on both axes: cos⁴(π/16) costs 7 %.
  private static final double GRID_SHARE = 0.85;
  private static final double SAME_POWER = 1e-10;
  private static final double FLAT = 1e-12;
  private static final double NOTHING = 1e-24;
  private static final double SAME_PLACE = 1e-7;
  // The rim is π times as long as the grid is wide; some more, so that no step is coarser.
  private static final int RIM_SHARE = 4;
  private static final int MOST_STEPS = 60;
  private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;

  static PlanarLobes of(PlanarLayout layout, double[] re, double[] im, double u0, double v0) {
    return new Search(layout, re, im).lobes(u0, v0);
  }

  private static final class Search {
    private final PlanarLayout layout;
    private final double[] re;
    private final double[] im;
    private final double[] u;
    private final double[] v;

    Search(PlanarLayout layout, double[] re, double[] im) {
      this.layout = layout;
      this.re = re;
      this.im = im;
      u = layout.gridU();
      v = layout.gridV();
    }

    PlanarLobes lobes(double u0, double v0) {
      double[][] power = layout.gridPower(re, im);
      double highest = 0;
      double lowest = Double.POSITIVE_INFINITY;
      for (double[] row : power) {
        for (double p : row) {
          highest = Math.max(highest, p);
          lowest = Math.min(lowest, p);
        }
      }
      if (highest - lowest <= FLAT * highest) {
        return new PlanarLobes(new Maximum(u0, v0, at(u0, v0).power()), OptionalDouble.empty());
      }
      List<Maximum> found = new ArrayList<>();
      double best = 0;
      double second = 0;
      for (Maximum start : gridMaxima(power)) {
        if (start.power < GRID_SHARE * second) {
          break;
        }
        Maximum top = climb(start);
        if (top != null && isNew(top, found)) {
          found.add(top);
          second = Math.max(second, Math.min(best, top.power));
          best = Math.max(best, top.power);
        }
      }
      found.addAll(rim(power, GRID_SHARE * second));
      Maximum peak = null;
      for (Maximum maximum : found) {
        if (peak == null || isBetter(maximum, peak, u0, v0)) {
          peak = maximum;
        }
      }
      if (peak == null) {
        throw new IllegalStateException("no maximum of the array factor was found");
      }
      double sidelobe = 0;
      for (Maximum maximum : found) {
        if (maximum != peak) {
          sidelobe = Math.max(sidelobe, maximum.power);
        }
      }
      return new PlanarLobes(
          peak,
          sidelobe > NOTHING * peak.power ? OptionalDouble.of(sidelobe) : OptionalDouble.empty());
    }

    private Value at(double atU, double atV) {
      return layout.at(atU, atV, re, im);
    }

    private static boolean isBetter(Maximum maximum, Maximum peak, double u0, double v0) {
      return Math.abs(maximum.power - peak.power) <= SAME_POWER * peak.power
          ? maximum.distance(u0, v0) < peak.distance(u0, v0)
          : maximum.power > peak.power;
    }

    private static boolean isNew(Maximum top, List<Maximum> found) {
      return found.stream().allMatch(other -> top.distance(other.u, other.v) > SAME_PLACE);
    }

    /** Grid points inside the rim that no neighbour inside exceeds, highest first. */
    private List<Maximum> gridMaxima(double[][] power) {
      List<Maximum> maxima = new ArrayList<>();
      for (int j = 0; j < v.length; j++) {
        for (int i = 0; i < u.length; i++) {
          if (isInside(u[i], v[j]) && isHighest(power, i, j)) {
            maxima.add(new Maximum(u[i], v[j], power[j][i]));
          }
        }
      }
      maxima.sort(Comparator.comparingDouble(Maximum::power).reversed());
      return maxima;
    }

    private boolean isHighest(double[][] power, int i, int j) {
      for (int b = Math.max(j - 1, 0); b <= Math.min(j + 1, v.length - 1); b++) {
        for (int a = Math.max(i - 1, 0); a <= Math.min(i + 1, u.length - 1); a++) {
          if (power[b][a] > power[j][i] && isInside(u[a], v[b])) {
            return false;
          }
        }
      }
      return true;
    }

    private static boolean isInside(double atU, double atV) {
      return atU * atU + atV * atV < 1;
    }

    /** Newton's method with damping; null if it leaves the visible space or doesn't settle. */
    private @Nullable Maximum climb(Maximum start) {
      double x = start.u;
      double y = start.v;
      Value here = at(x, y);
      for (int i = 0; i < MOST_STEPS; i++) {
        double determinant = here.duu() * here.dvv() - here.duv() * here.duv();
        boolean top = here.duu() < 0 && determinant > 0;
        double stepX = -(here.du() * here.dvv() - here.dv() * here.duv()) / determinant;
        double stepY = -(here.dv() * here.duu() - here.du() * here.duv()) / determinant;
        if (!top) {
          // Uphill by a fraction of a step of the grid.
          double slope = Math.hypot(here.du(), here.dv());
          double reach = Math.min(u[1] - u[0], v[1] - v[0]) / 4;
          stepX = here.du() / slope * reach;
          stepY = here.dv() / slope * reach;
        }
        Value next = at(x + stepX, y + stepY);
        for (int halved = 0; next.power() < here.power() && halved < 40; halved++) {
          stepX /= 2;
          stepY /= 2;
          next = at(x + stepX, y + stepY);
        }
        x += stepX;
        y += stepY;
        here = next;
        if (!isInside(x, y)) {
          return null;
        }
        if (top && Math.hypot(stepX, stepY) < 1e-12) {
          return new Maximum(x, y, here.power());
        }
      }
      return null;
    }

    /** Maxima along the rim, above a floor, towards which |AF| rises from inside. */
    private List<Maximum> rim(double[][] power, double floor) {
      int points = RIM_SHARE * Math.max(u.length, v.length);
      double step = 2 * Math.PI / points;
      double[] rim = new double[points];
      for (int i = 0; i < points; i++) {
        rim[i] = interpolated(power, Math.cos(i * step), Math.sin(i * step));
      }
      List<Maximum> maxima = new ArrayList<>();
      for (int i = 0; i < points; i++) {
        double before = rim[(i + points - 1) % points];
        double after = rim[(i + 1) % points];
        if (rim[i] >= floor && rim[i] >= before && rim[i] > after) {
          double phi = rimTop((i - 2) * step, (i + 2) * step);
          Value value = at(Math.cos(phi), Math.sin(phi));
          if (value.du() * Math.cos(phi) + value.dv() * Math.sin(phi) > 0) {
            maxima.add(new Maximum(Math.cos(phi), Math.sin(phi), value.power()));
          }
        }
      }
      return maxima;
    }

    /** Linear between the grid points around. */
    private double interpolated(double[][] power, double atU, double atV) {
      double x = (atU + 1) / 2 * (u.length - 1);
      double y = (atV + 1) / 2 * (v.length - 1);
      int i = Math.min((int) x, u.length - 2);
      int j = Math.min((int) y, v.length - 2);
      double below = power[j][i] + (x - i) * (power[j][i + 1] - power[j][i]);
      double above = power[j + 1][i] + (x - i) * (power[j + 1][i + 1] - power[j + 1][i]);
      return below + (y - j) * (above - below);
    }

    private double rimPower(double phi) {
      return at(Math.cos(phi), Math.sin(phi)).power();
    }

    /** Golden-section search for the maximum along the rim. */
    private double rimTop(double from, double to) {
      double low = to - GOLDEN * (to - from);
      double high = from + GOLDEN * (to - from);
      double atLow = rimPower(low);
      double atHigh = rimPower(high);
      for (int i = 0; i < MOST_STEPS; i++) {
        if (atLow > atHigh) {
          to = high;
          high = low;
          atHigh = atLow;
          low = to - GOLDEN * (to - from);
          atLow = rimPower(low);
        } else {
          from = low;
          low = high;
          atLow = atHigh;
          high = from + GOLDEN * (to - from);
          atHigh = rimPower(high);
        }
      }
      return (from + to) / 2;
    }
  }
}
