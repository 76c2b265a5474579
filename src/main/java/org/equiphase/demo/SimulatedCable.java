package org.equiphase.demo;

import org.equiphase.catalog.CableType;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.VelocityFactor;

/**
 * A cable as it really is, which no reading shows exactly: an attenuating line between two
 * connectors that reflect a little.
 *
 * @param lengthMm physical length at the reference temperature
 * @param velocityFactor that of its lot
 * @param airLineMm electrical length of a line stretcher in series, without loss
 * @param nearStep reflection coefficient of the near connector, an impedance step
 * @param farStep reflection coefficient of the far connector, seen from the cable
 */
record SimulatedCable(
    CableType type,
    double referenceTemperatureC,
    double lengthMm,
    double velocityFactor,
    double airLineMm,
    double nearStep,
    double farStep) {

  private static final double DB_PER_NEPER = 20 / Math.log(10);

  SimulatedCable cut(double trimMm) {
    return new SimulatedCable(
        type,
        referenceTemperatureC,
        lengthMm - trimMm,
        velocityFactor,
        airLineMm,
        nearStep,
        farStep);
  }

  /** S-parameters by row and column. */
  Complex[][] scattering(double frequencyHz, double temperatureC) {
    Complex line = line(frequencyHz, temperatureC);
    Complex twice = line.times(line);
    Complex loop = Complex.ONE.plus(twice.times(nearStep * farStep));
    double nearPass = 1 - nearStep * nearStep;
    double farPass = 1 - farStep * farStep;
    Complex through = line.times(Math.sqrt(nearPass * farPass)).dividedBy(loop);
    Complex near = Complex.of(nearStep, 0).plus(twice.times(nearPass * farStep).dividedBy(loop));
    Complex far = Complex.of(-farStep, 0).minus(twice.times(farPass * nearStep).dividedBy(loop));
    return new Complex[][] {{near, through}, {through, far}};
  }

  /** Reflection at the near connector with the far end of the cable closed by a standard. */
  Complex reflection(double frequencyHz, double temperatureC, Complex end) {
    Complex line = line(frequencyHz, temperatureC);
    Complex returned = line.times(line).times(end);
    return Complex.of(nearStep, 0)
        .plus(
            returned
                .times(1 - nearStep * nearStep)
                .dividedBy(Complex.ONE.plus(returned.times(nearStep))));
  }

  /**
   * Insertion phase of the line alone, whole turns included. Skin effect gives the conductors an
   * inner reactance equal to their resistance (any text on skin effect), so their loss in neper
   * comes with as many radians of delay.
   */
  double phaseDeg(double frequencyHz, double temperatureC) {
    Frequency frequency = Frequency.ofHertz(frequencyHz);
    double lengthM = lengthMm / 1e3;
    double skinDb = type.skinLossDbPerM() * Math.sqrt(frequency.inGigahertz()) * lengthM;
    double delayDeg =
        -VelocityFactor.of(velocityFactor).degreesPerMetre(frequency) * lengthM
            - Math.toDegrees(skinDb / DB_PER_NEPER);
    double cableDeg =
        type.phaseTemperatureCurve()
            .map(curve -> curve.correctDeg(delayDeg, referenceTemperatureC, temperatureC))
            .orElse(delayDeg);
    double airDeg = -360 * airLineMm / frequency.wavelength().inMillimetres();
    return cableDeg + airDeg;
  }

  private Complex line(double frequencyHz, double temperatureC) {
    double lossDb =
        type.loss().lossDb(Frequency.ofHertz(frequencyHz), Length.ofMillimetres(lengthMm));
    return Complex.ofPolarDeg(Math.pow(10, -lossDb / 20), phaseDeg(frequencyHz, temperatureC));
  }
}
