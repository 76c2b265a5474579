package org.equiphase.catalog;

import static org.equiphase.rf.PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;

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

  /** Nominal delay in ns per metre of cable. */
  public double nominalDelayNsPerM() {
    return 1e9 / (velocityFactor * SPEED_OF_LIGHT_M_PER_S);
  }

  /** Insertion phase taken away by one millimetre of cable, in degrees. */
  public double phaseDegPerMm(double frequencyHz) {
    return 360e-3 * frequencyHz / (velocityFactor * SPEED_OF_LIGHT_M_PER_S);
  }

  /** Loss in dB per metre of cable. */
  public double lossDbPerM(double frequencyHz) {
    double ghz = frequencyHz / 1e9;
    return skinLossDbPerM * Math.sqrt(ghz) + dielectricLossDbPerM * ghz;
  }
}
