package org.equiphase.rf;

/**
 * A phase known only modulo 360°, given in (−180, +180].
 *
 * @param degrees the phase, degrees
 */
public record WrappedPhase(double degrees) {
  /**
   * @throws InvalidQuantityException for {@code phaseDeg} outside (−180, +180], or not finite
   */
  public WrappedPhase {
    Require.finite("phaseDeg", degrees);
    if (degrees <= -180 || degrees > 180) {
      throw new InvalidQuantityException(
          "phaseDeg", "phaseDeg must lie above -180 and at most at 180, not " + degrees);
    }
  }

  /** Wraps any finite phase, degrees, into (−180, +180]. */
  public static WrappedPhase ofDegrees(double degrees) {
    return new WrappedPhase(wrapDeg(Require.finite("phaseDeg", degrees)));
  }

  /**
   * The phase in (−180, +180] that differs from the given one by whole turns; exact, without
   * rounding.
   */
  public static double wrapDeg(double degrees) {
    return wrap(degrees, 360);
  }

  /** The value in (−period/2, +period/2] that differs from the given one by whole periods. */
  static double wrap(double value, double period) {
    double wrapped = Math.IEEEremainder(value, period);
    return wrapped == -period / 2 ? period / 2 : wrapped;
  }

  /** The total phase with this wrapped phase that lies nearest to an expected total phase. */
  public UnwrappedPhase nearestTo(UnwrappedPhase expected) {
    return UnwrappedPhase.ofDegrees(expected.degrees() + wrapDeg(degrees - expected.degrees()));
  }
}
