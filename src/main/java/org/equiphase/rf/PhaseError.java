package org.equiphase.rf;

/**
 * Phase error: phase minus target phase. Negative: too long, so trim; positive: too short.
 *
 * @param degrees the error, degrees
 */
public record PhaseError(double degrees) {
  /**
   * @throws InvalidQuantityException for {@code phaseErrorDeg} that is not finite
   */
  public PhaseError {
    Require.finite("phaseErrorDeg", degrees);
  }

  /** The error between two total phases, with all its turns. */
  public static PhaseError absolute(UnwrappedPhase measured, UnwrappedPhase target) {
    return new PhaseError(measured.degrees() - target.degrees());
  }

  /** The smallest error between two wrapped phases, in [−180, +180). */
  public static PhaseError nearest(WrappedPhase measured, WrappedPhase target) {
    // Wrapped as target − measured, so that a half turn counts as a cut.
    return new PhaseError(0.0 - WrappedPhase.wrapDeg(target.degrees() - measured.degrees()));
  }

  /** The error between two wrapped phases that a cut can take away, in (−360, 0]. */
  public static PhaseError cutOnly(WrappedPhase measured, WrappedPhase target) {
    double toGo = WrappedPhase.wrapDeg(target.degrees() - measured.degrees());
    return new PhaseError(0.0 - (toGo < 0 ? toGo + 360 : toGo));
  }
}
