package org.equiphase.catalog;

import java.util.List;
import java.util.Optional;
import org.equiphase.rf.CableLoss;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.PhaseTemperatureCurve;
import org.equiphase.rf.VelocityFactor;

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

  /** The nominal velocity factor. */
  public VelocityFactor nominalVelocityFactor() {
    return VelocityFactor.of(velocityFactor);
  }

  /** Attenuation against frequency. */
  public CableLoss loss() {
    return new CableLoss(skinLossDbPerM, dielectricLossDbPerM);
  }

  /** The phase-temperature curve; empty where it is not known. */
  public Optional<PhaseTemperatureCurve> phaseTemperatureCurve() {
    return temperatureCurve.isEmpty()
        ? Optional.empty()
        : Optional.of(
            PhaseTemperatureCurve.of(
                temperatureCurve.stream().mapToDouble(TemperaturePoint::temperatureC).toArray(),
                temperatureCurve.stream().mapToDouble(TemperaturePoint::lengthPpm).toArray()));
  }

  /** Nominal delay in ns per metre of cable. */
  public double nominalDelayNsPerM() {
    return Length.ofMetres(1).delayAt(nominalVelocityFactor()).inNanoseconds();
  }

  /**
   * Insertion phase that one millimetre of cable turns one way, in degrees, as a positive number.
   */
  public double phaseDegPerMm(double frequencyHz) {
    return nominalVelocityFactor().degreesPerMetre(Frequency.ofHertz(frequencyHz)) / 1000;
  }

  /** Loss in dB per metre of cable. */
  public double lossDbPerM(double frequencyHz) {
    return loss().dbPerMetre(Frequency.ofHertz(frequencyHz));
  }
}
