package org.equiphase.matching;

import java.util.Arrays;

/**
 * A set of centres: bounds x_a − x_b ≤ bound(a, b) between the centre's lengths x_1…x_K and x_0 =
 * 0, always closed (no bound follows tighter from others). Such a set has a least element, and cuts
 * by one difference split it into two of its kind.
 */
final class Zone {

  final int size;
  private final double[] bound;

  private Zone(int size, double[] bound) {
    this.size = size;
    this.bound = bound;
  }

  static Zone everything(int size) {
    double[] bound = new double[size * size];
    Arrays.fill(bound, Double.POSITIVE_INFINITY);
    for (int a = 0; a < size; a++) {
      bound[a * size + a] = 0;
    }
    return new Zone(size, bound);
  }

  /** Number of bounds, the measure of the work that one look at the zone is. */
  int entries() {
    return bound.length;
  }

  Zone copy() {
    return new Zone(size, bound.clone());
  }

  double bound(int a, int b) {
    return bound[a * size + b];
  }

  /** Greatest value of x_c. */
  double high(int c) {
    return bound[c * size];
  }

  /** Least value of x_c; together they are the least element of the zone. */
  double low(int c) {
    return -bound[c];
  }

  double[] leastElement() {
    double[] least = new double[size];
    for (int c = 1; c < size; c++) {
      least[c] = low(c);
    }
    return least;
  }

  /** Keeps only centres with x_a − x_b ≤ limit; false if none is left. */
  boolean cut(int a, int b, double limit, double epsilon) {
    if (limit + bound(b, a) < -epsilon) {
      return false;
    }
    if (limit < bound(a, b)) {
      double[] toA = new double[size];
      double[] fromB = new double[size];
      for (int c = 0; c < size; c++) {
        toA[c] = bound[c * size + a] + limit;
        fromB[c] = bound[b * size + c];
      }
      tighten(toA, fromB);
    }
    return true;
  }

  /** Keeps only centres that suit the option with which {@code fit} was last measured. */
  void meet(Fit fit) {
    tighten(fit.above, fit.below);
  }

  /** Becomes the other zone. */
  void replaceBy(Zone other) {
    System.arraycopy(other.bound, 0, bound, 0, bound.length);
  }

  /** Whether a bound lies lower than before by more than a share of the way across the zone. */
  boolean shrunkFrom(Zone before, double share) {
    for (int a = 0; a < size; a++) {
      for (int b = 0; b < size; b++) {
        double width = before.bound(a, b) + before.bound(b, a);
        if (a != b && before.bound(a, b) - bound(a, b) > share * width) {
          return true;
        }
      }
    }
    return false;
  }

  private void tighten(double[] above, double[] below) {
    for (int a = 0; a < size; a++) {
      for (int b = 0; b < size; b++) {
        if (a != b) {
          bound[a * size + b] = Math.min(bound[a * size + b], above[a] + below[b]);
        }
      }
    }
  }

  /** Whether every centre of this zone suits the option. */
  boolean within(Option option, double epsilon) {
    for (int a = 0; a < size; a++) {
      for (int b = 0; b < size; b++) {
        if (a != b && bound[a * size + b] > option.bound(a, b) + epsilon) {
          return false;
        }
      }
    }
    return true;
  }

  /** Grows this zone to the smallest one that also holds the centres measured by {@code fit}. */
  void widen(Zone from, Fit fit) {
    for (int a = 0; a < size; a++) {
      for (int b = 0; b < size; b++) {
        if (a != b) {
          double reached = Math.min(from.bound(a, b), fit.above[a] + fit.below[b]);
          bound[a * size + b] = Math.max(bound[a * size + b], reached);
        }
      }
    }
  }

  /** The empty zone, to be widened. */
  static Zone nothing(int size) {
    double[] bound = new double[size * size];
    Arrays.fill(bound, Double.NEGATIVE_INFINITY);
    for (int a = 0; a < size; a++) {
      bound[a * size + a] = 0;
    }
    return new Zone(size, bound);
  }

  /** An option seen within a zone; reused to spare allocation. */
  static final class Fit {

    /** Tightest bounds x_c − y ≤ above[c] and y − x_c ≤ below[c], for the shortening y. */
    final double[] above;

    final double[] below;

    Fit(int size) {
      above = new double[size];
      below = new double[size];
    }

    /** Measures the option; the result is negative if no centre of the zone suits it. */
    double measure(Zone zone, Option option) {
      double room = Double.POSITIVE_INFINITY;
      double[] bound = zone.bound;
      for (int c = 0; c < zone.size; c++) {
        double up = Double.POSITIVE_INFINITY;
        double down = Double.POSITIVE_INFINITY;
        for (int d = 0; d < zone.size; d++) {
          up = Math.min(up, bound[c * zone.size + d] + option.above()[d]);
          down = Math.min(down, option.below()[d] + bound[d * zone.size + c]);
        }
        above[c] = up;
        below[c] = down;
        room = Math.min(room, option.above()[c] + down);
      }
      return room;
    }

    /** Least size of the adjustment over the zone (mm of air). */
    double leastSize() {
      return Math.max(0, Math.max(-above[0], -below[0]));
    }
  }
}
