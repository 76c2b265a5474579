package org.equiphase.rf;

/**
 * A delay, or a change of delay, which may be negative.
 *
 * @param seconds the delay, s
 */
public record Delay(double seconds) implements Comparable<Delay> {
  /** No delay. */
  public static final Delay ZERO = new Delay(0);

  /**
   * @throws InvalidQuantityException for {@code delayS} that is not finite
   */
  public Delay {
    Require.finite("delayS", seconds);
  }

  public static Delay ofSeconds(double seconds) {
    return new Delay(seconds);
  }

  public static Delay ofNanoseconds(double nanoseconds) {
    return new Delay(nanoseconds / 1e9);
  }

  public static Delay ofPicoseconds(double picoseconds) {
    return new Delay(picoseconds / 1e12);
  }

  public double inNanoseconds() {
    return seconds * 1e9;
  }

  public double inPicoseconds() {
    return seconds * 1e12;
  }

  /** Free-space length with this delay, c·τ. */
  public Length electricalLength() {
    return Length.ofMetres(PhysicalConstants.SPEED_OF_LIGHT_M_PER_S * seconds);
  }

  /** Length of line with this delay, v·c·τ; inverse of {@link Length#delayAt}. */
  public Length lengthAt(VelocityFactor velocityFactor) {
    return Length.ofMetres(velocityFactor.metresPerSecond() * seconds);
  }

  /** Insertion phase at a frequency, −360·f·τ. */
  public UnwrappedPhase insertionPhase(Frequency frequency) {
    return UnwrappedPhase.ofDegrees(-360 * frequency.hertz() * seconds);
  }

  @Override
  public int compareTo(Delay other) {
    return Double.compare(seconds, other.seconds);
  }
}
