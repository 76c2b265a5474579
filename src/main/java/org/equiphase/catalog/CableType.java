package org.equiphase.catalog;

import java.util.List;

/**
 * A cable construction.
 *
 * @param velocityFactor nominal velocity factor, 0 &lt; v ≤ 1
 * @param velocityFactorTolerance half-width of its spread, same unit as the factor
 * @param skinLossDbPerM loss at 1 GHz that grows with the square root of frequency
 * @param dielectricLossDbPerM loss at 1 GHz that grows with frequency
 * @param temperatureCurve electrical length in ppm against °C, ascending; empty where not known
 */
public record CableType(
    long id,
    int version,
    String name,
    double velocityFactor,
    double velocityFactorTolerance,
    double impedanceOhm,
    double skinLossDbPerM,
    double dielectricLossDbPerM,
    List<TemperaturePoint> temperatureCurve,
    String note)
    implements CatalogEntry {

  /** One point of the phase-temperature curve. */
  public record TemperaturePoint(double temperatureC, double lengthPpm) {}

  public CableType {
    temperatureCurve = List.copyOf(temperatureCurve);
  }
}
