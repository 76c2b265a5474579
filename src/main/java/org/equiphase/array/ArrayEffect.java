package org.equiphase.array;

import java.util.OptionalDouble;
import org.equiphase.rf.InvalidQuantityException;

/**
 * What phase errors do to a linear array: AF(u) = Σ A_n·exp(j·(2π·x_n·(u − u0) + e_n)), u = sin θ,
 * u0 = sin(steer), against the error-free array. A positive error is a phase lead; errors that rise
 * along the line move the beam to smaller θ.
 *
 * @param gainLossDb −20·log10(|AF(u0)|/ΣA), dB; infinite where the elements cancel
 * @param peakGainLossDb the same at the peak, dB
 * @param beamShiftDeg θ of the peak − steer, degrees
 * @param peakSidelobeDb the largest |AF| in −1 ≤ u ≤ 1 outside the main lobe, which ends at the
 *     first local minimum on each side of the peak, against the peak, dB; empty where nothing lies
 *     outside
 * @param idealPeakSidelobeDb the same without errors
 * @param ruleOfThumbLossDb 10·log10(e)·σ², dB, σ the errors' standard deviation about their mean in
 *     radians, divisor N: the expected loss exp(−σ²) of many elements (J. Ruze, Proc. IEEE 54,
 *     1966)
 */
public record ArrayEffect(
    double gainLossDb,
    double peakGainLossDb,
    double beamShiftDeg,
    OptionalDouble peakSidelobeDb,
    OptionalDouble idealPeakSidelobeDb,
    double ruleOfThumbLossDb) {

  private static final double CANCELLED = 1e-14;

  /**
   * The effect of errors on an array.
   *
   * @param steerDeg direction from broadside, degrees, −90 to 90
   * @param phaseErrorDeg phase errors, degrees, one per element
   * @throws InvalidQuantityException for {@code steerDeg} or {@code phaseErrorDeg}
   */
  public static ArrayEffect of(LinearArray array, double steerDeg, double[] phaseErrorDeg) {
    double u0 = steeredU(steerDeg);
    Checks.finite("phaseErrorDeg", phaseErrorDeg, array.elements());
    double thumb = ruleOfThumbLossDb(phaseErrorDeg);
    double re = 0;
    double im = 0;
    double sum = 0;
    for (int n = 0; n < phaseErrorDeg.length; n++) {
      double radians = Math.toRadians(Math.IEEEremainder(phaseErrorDeg[n], 360));
      re += array.amplitude(n) * Math.cos(radians);
      im += array.amplitude(n) * Math.sin(radians);
      sum += array.amplitude(n);
    }
    LinearLobes lobes = array.lobes(u0, phaseErrorDeg);
    LinearLobes ideal = array.lobes(u0, new double[array.elements()]);
    return new ArrayEffect(
        lossDb(Math.hypot(re, im) / sum),
        lossDb(Math.sqrt(lobes.peakPower()) / sum),
        Math.toDegrees(Math.asin(lobes.peakU())) - steerDeg,
        sidelobeDb(lobes),
        sidelobeDb(ideal),
        thumb);
  }

  static double steeredU(double steerDeg) {
    return Math.sin(Math.toRadians(Checks.within("steerDeg", steerDeg, -90, 90)));
  }

  static OptionalDouble sidelobeDb(LinearLobes lobes) {
    return lobes.sidelobePower().isPresent()
        ? OptionalDouble.of(
            10 * Math.log10(lobes.sidelobePower().getAsDouble() / lobes.peakPower()))
        : OptionalDouble.empty();
  }

  static double lossDb(double share) {
    return share < CANCELLED ? Double.POSITIVE_INFINITY : 0.0 - 20 * Math.log10(share);
  }

  static double ruleOfThumbLossDb(double[] phaseErrorDeg) {
    double mean = 0;
    for (double e : phaseErrorDeg) {
      mean += e / phaseErrorDeg.length;
    }
    double variance = 0;
    for (double e : phaseErrorDeg) {
      double radians = Math.toRadians(e - mean);
      variance += radians * radians / phaseErrorDeg.length;
    }
    if (!Double.isFinite(variance)) {
      throw new InvalidQuantityException(
          "phaseErrorDeg", "phaseErrorDeg spreads too far to be represented");
    }
    return 10 * Math.log10(Math.E) * variance;
  }
}
