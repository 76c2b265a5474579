package org.equiphase.rf;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How to read a sweep.
 *
 * @param method how it was measured
 * @param velocityFactor velocity factor of the cable
 * @param expectedLength physical length that the assembly should have, above 0; null if not known
 * @param expectedLengthUncertainty half-width of the interval that holds the true length; null if
 *     not known
 * @param endStandard the standard at the far end in reflection; null for the ideal one
 * @param referencePlane adapters to take off
 * @param spotHz frequencies at which values are wanted, Hz, within the sweep
 */
public record SweepSettings(
    Method method,
    VelocityFactor velocityFactor,
    @Nullable Length expectedLength,
    @Nullable Length expectedLengthUncertainty,
    @Nullable EndStandard endStandard,
    ReferencePlane referencePlane,
    List<Double> spotHz) {

  /**
   * @throws InvalidQuantityException for an expected length not above 0, a negative uncertainty, or
   *     an end standard that is not the method's
   */
  public SweepSettings {
    spotHz = List.copyOf(spotHz);
    if (expectedLength != null) {
      Require.positive("expectedLengthM", expectedLength.metres());
    }
    if (expectedLengthUncertainty != null) {
      Require.notNegative("expectedLengthUncertaintyM", expectedLengthUncertainty.metres());
    }
    if (endStandard != null
        && (!method.isReflection() || endStandard.kind() != EndStandard.idealFor(method).kind())) {
      throw new InvalidQuantityException(
          "endStandard",
          "an end standard of kind " + endStandard.kind() + " can't be used with " + method);
    }
  }

  /** An assembly between the calibrated planes, nothing else known. */
  public static SweepSettings of(Method method, VelocityFactor velocityFactor) {
    return new SweepSettings(
        method, velocityFactor, null, null, null, ReferencePlane.CALIBRATED, List.of());
  }

  public SweepSettings withExpectedLength(@Nullable Length length) {
    return withExpectedLength(length, null);
  }

  public SweepSettings withExpectedLength(@Nullable Length length, @Nullable Length uncertainty) {
    return new SweepSettings(
        method, velocityFactor, length, uncertainty, endStandard, referencePlane, spotHz);
  }

  public SweepSettings withEndStandard(@Nullable EndStandard standard) {
    return new SweepSettings(
        method,
        velocityFactor,
        expectedLength,
        expectedLengthUncertainty,
        standard,
        referencePlane,
        spotHz);
  }

  public SweepSettings withReferencePlane(ReferencePlane plane) {
    return new SweepSettings(
        method,
        velocityFactor,
        expectedLength,
        expectedLengthUncertainty,
        endStandard,
        plane,
        spotHz);
  }

  public SweepSettings withSpotsHz(List<Double> frequenciesHz) {
    return new SweepSettings(
        method,
        velocityFactor,
        expectedLength,
        expectedLengthUncertainty,
        endStandard,
        referencePlane,
        frequenciesHz);
  }

  /** Phase of Γ at the far end, degrees; 0 in transmission. */
  double endPhaseDeg(double frequencyHz, double referenceOhm) {
    if (!method.isReflection()) {
      return 0;
    }
    EndStandard end = endStandard == null ? EndStandard.idealFor(method) : endStandard;
    return end.phaseDeg(frequencyHz, referenceOhm);
  }

  /** Loss of adapters and end standard, one way, dB. */
  double fixtureLossDb(double frequencyHz) {
    double endDb = endStandard == null ? 0 : endStandard.lossDb(frequencyHz);
    return referencePlane.lossDb(frequencyHz) + endDb;
  }

  /** Delay of adapters and end standard, one way, s. */
  double fixtureDelayS() {
    double endS = endStandard == null ? 0 : endStandard.offsetDelay().seconds();
    return referencePlane.delay().seconds() + endS;
  }
}
