package org.equiphase.rf;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;

/**
 * How far cables that agree in phase at a reference temperature come apart at others. Cables of
 * different type or length don't track (common practice, no source).
 */
public final class TemperatureTracking {
  private TemperatureTracking() {}

  /**
   * One cable.
   *
   * @param curve of its type
   * @param totalPhaseDeg insertion phase with all its turns at the reference temperature, degrees
   */
  public record Cable(PhaseTemperatureCurve curve, double totalPhaseDeg) {}

  /**
   * Where the cables are farthest apart.
   *
   * @param spreadDeg greatest difference between any two cables' changes of phase since the
   *     reference temperature, degrees, 0 or more
   * @param temperatureC where that is, °C; the lowest such one
   */
  public record Spread(double spreadDeg, double temperatureC) {}

  /**
   * The greatest spread over a range. A cable's phase is proportional to its electrical length,
   * which is linear in temperature between the points of its curve, so that the greatest spread
   * lies at a point of some curve or at an end of the range.
   *
   * @param cables at least one
   * @param referenceC temperature at which they agree, °C
   * @param lowC coldest, °C
   * @param highC hottest, °C, at least {@code lowC}
   * @throws InvalidQuantityException for a temperature outside a curve, or out of order
   */
  public static Spread greatest(List<Cable> cables, double referenceC, double lowC, double highC) {
    if (!(Require.finite("highC", highC) >= Require.finite("lowC", lowC))) {
      throw new InvalidQuantityException("highC", "highC " + highC + " lies below lowC " + lowC);
    }
    Spread greatest = new Spread(0, lowC);
    for (double celsius : candidates(cables, lowC, highC)) {
      double spread = spreadDeg(cables, referenceC, celsius);
      if (spread > greatest.spreadDeg()) {
        greatest = new Spread(spread, celsius);
      }
    }
    return greatest;
  }

  /** The spread at one temperature, as in {@link #greatest}. */
  public static double spreadDeg(List<Cable> cables, double referenceC, double temperatureC) {
    if (cables.isEmpty()) {
      throw new InvalidQuantityException("cables", "cables must hold at least one cable");
    }
    double least = Double.POSITIVE_INFINITY;
    double most = Double.NEGATIVE_INFINITY;
    for (Cable cable : cables) {
      double change =
          cable.curve().correctDeg(cable.totalPhaseDeg(), referenceC, temperatureC)
              - cable.totalPhaseDeg();
      least = Math.min(least, change);
      most = Math.max(most, change);
    }
    return most - least;
  }

  private static List<Double> candidates(List<Cable> cables, double lowC, double highC) {
    TreeSet<Double> temperatures = new TreeSet<>(List.of(lowC, highC));
    for (Cable cable : cables) {
      for (double celsius : cable.curve().temperaturesC()) {
        if (celsius > lowC && celsius < highC) {
          temperatures.add(celsius);
        }
      }
    }
    return new ArrayList<>(temperatures);
  }
}
