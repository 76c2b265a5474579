package org.equiphase.array;

import java.util.OptionalDouble;
import org.equiphase.rf.InvalidQuantityException;

/**
 * What phase errors do to a planar array: AF(u, v) = Σ A_n·exp(j·(2π·(x_n·(u − u0) + y_n·(v − v0))
 * + e_n)), against the error-free array. A positive error is a phase lead.
 *
 * @param gainLossDb −20·log10(|AF(u0, v0)|/ΣA), dB; infinite where the elements cancel
 * @param peakGainLossDb the same at the peak, dB
 * @param beamShiftDeg angle between the peak and the steered direction, degrees, 0 or more
 * @param peakThetaDeg θ of the peak, degrees
 * @param peakPhiDeg φ of the peak, degrees in (−180, +180]
 * @param peakSidelobeDb the highest local maximum of |AF| in the visible space other than the peak,
 *     its rim included, against the peak, dB; empty where there is none
 * @param idealPeakSidelobeDb the same without errors
 * @param ruleOfThumbLossDb as in {@link ArrayEffect}
 */
public record PlanarEffect(
    double gainLossDb,
    double peakGainLossDb,
    double beamShiftDeg,
    double peakThetaDeg,
    double peakPhiDeg,
    OptionalDouble peakSidelobeDb,
    OptionalDouble idealPeakSidelobeDb,
    double ruleOfThumbLossDb) {

  /**
   * The effect of errors on an array.
   *
   * @param thetaDeg steered direction from broadside, degrees, 0 to 90
   * @param phiDeg steered direction from the x axis, degrees, −360 to 360
   * @param phaseErrorDeg phase errors, degrees, one per element
   * @throws InvalidQuantityException for {@code thetaDeg}, {@code phiDeg} or {@code phaseErrorDeg}
   */
  public static PlanarEffect of(
      PlanarArray array, double thetaDeg, double phiDeg, double[] phaseErrorDeg) {
    double sin = Math.sin(Math.toRadians(Checks.within("thetaDeg", thetaDeg, 0, 90)));
    double phi = Math.toRadians(Checks.within("phiDeg", phiDeg, -360, 360));
    Checks.finite("phaseErrorDeg", phaseErrorDeg, array.elements());
    double thumb = ArrayEffect.ruleOfThumbLossDb(phaseErrorDeg);
    double u0 = sin * Math.cos(phi);
    double v0 = sin * Math.sin(phi);
    double re = 0;
    double im = 0;
    double sum = 0;
    for (int n = 0; n < phaseErrorDeg.length; n++) {
      double radians = Math.toRadians(Math.IEEEremainder(phaseErrorDeg[n], 360));
      re += array.amplitude(n) * Math.cos(radians);
      im += array.amplitude(n) * Math.sin(radians);
      sum += array.amplitude(n);
    }
    PlanarLobes lobes = array.lobes(u0, v0, phaseErrorDeg);
    PlanarLobes ideal = array.lobes(u0, v0, new double[array.elements()]);
    PlanarLobes.Maximum peak = lobes.peak();
    return new PlanarEffect(
        ArrayEffect.lossDb(Math.hypot(re, im) / sum),
        ArrayEffect.lossDb(Math.sqrt(peak.power()) / sum),
        angleDeg(u0, v0, peak.u(), peak.v()),
        Math.toDegrees(Math.asin(Math.min(1, Math.hypot(peak.u(), peak.v())))),
        Math.toDegrees(Math.atan2(peak.v(), peak.u())),
        sidelobeDb(lobes),
        sidelobeDb(ideal),
        thumb);
  }

  /** Angle between two directions, from the chord of their unit vectors. */
  private static double angleDeg(double u0, double v0, double u, double v) {
    double w0 = Math.sqrt(Math.max(0, 1 - u0 * u0 - v0 * v0));
    double w = Math.sqrt(Math.max(0, 1 - u * u - v * v));
    double chord = Math.sqrt((u - u0) * (u - u0) + (v - v0) * (v - v0) + (w - w0) * (w - w0));
    return Math.toDegrees(2 * Math.asin(Math.min(1, chord / 2)));
  }

  private static OptionalDouble sidelobeDb(PlanarLobes lobes) {
    return lobes.sidelobePower().isPresent()
        ? OptionalDouble.of(
            10 * Math.log10(lobes.sidelobePower().getAsDouble() / lobes.peak().power()))
        : OptionalDouble.empty();
  }
}
