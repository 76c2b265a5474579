package org.equiphase.rf;

/**
 * A total phase with all its turns.
 *
 * @param degrees the phase, degrees; negative for a delay
 */
public record UnwrappedPhase(double degrees) {
  /**
   * @throws InvalidQuantityException for {@code totalPhaseDeg} that is not finite
   */
  public UnwrappedPhase {
    Require.finite("totalPhaseDeg", degrees);
  }

  public static UnwrappedPhase ofDegrees(double degrees) {
    return new UnwrappedPhase(degrees);
  }

  public WrappedPhase wrapped() {
    return WrappedPhase.ofDegrees(degrees);
  }

  /** Delay of a line with this insertion phase, −φ/(360·f). */
  public Delay delay(Frequency frequency) {
    return Delay.ofSeconds(-degrees / (360 * frequency.hertz()));
  }
}
