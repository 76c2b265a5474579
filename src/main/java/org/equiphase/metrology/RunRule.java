package org.equiphase.metrology;

/**
 * The four run rules of the Western Electric handbook (Statistical Quality Control Handbook, 1956;
 * NIST/SEMATECH e-Handbook, 6.3.2): patterns that a process in control hardly shows. Zones are
 * counted from the centre in standard deviations; a point on a zone's edge isn't beyond it.
 */
public enum RunRule {
  ONE_BEYOND_3_SIGMA(1, 1, 3),
  TWO_OF_THREE_BEYOND_2_SIGMA(2, 3, 2),
  FOUR_OF_FIVE_BEYOND_1_SIGMA(4, 5, 1),
  EIGHT_ON_ONE_SIDE(8, 8, 0);

  private final int points;
  private final int window;
  private final double sigmas;

  RunRule(int points, int window, double sigmas) {
    this.points = points;
    this.window = window;
    this.sigmas = sigmas;
  }

  /**
   * Whether the point at an index completes the pattern: it lies beyond the zone itself, and with
   * it enough of the latest points on the same side.
   *
   * @param side +1 above the centre, −1 below
   */
  boolean completedAt(int index, double[] values, double center, double sigma, int side) {
    if (index + 1 < points || !beyond(values[index], center, sigma, side)) {
      return false;
    }
    int count = 0;
    for (int i = Math.max(0, index - window + 1); i <= index; i++) {
      count += beyond(values[i], center, sigma, side) ? 1 : 0;
    }
    return count >= points;
  }

  private boolean beyond(double value, double center, double sigma, int side) {
    return side * (value - center) > sigmas * sigma;
  }
}
