package org.equiphase.rf;

/**
 * A length, or a change of length, which may be negative.
 *
 * @param metres the length, m
 */
public record Length(double metres) implements Comparable<Length> {
  /**
   * @throws InvalidQuantityException for {@code lengthM} that is not finite
   */
  public Length {
    Require.finite("lengthM", metres);
  }

  public static Length ofMetres(double metres) {
    return new Length(metres);
  }

  public static Length ofMillimetres(double millimetres) {
    return new Length(millimetres / 1e3);
  }

  public static Length ofInches(double inches) {
    return new Length(inches * PhysicalConstants.MILLIMETRES_PER_INCH / 1e3);
  }

  public double inMillimetres() {
    return metres * 1e3;
  }

  public double inInches() {
    return metres * 1e3 / PhysicalConstants.MILLIMETRES_PER_INCH;
  }

  /** Delay of a wave over this length of line, L/(v·c). */
  public Delay delayAt(VelocityFactor velocityFactor) {
    return Delay.ofSeconds(metres / velocityFactor.metresPerSecond());
  }

  @Override
  public int compareTo(Length other) {
    return Double.compare(metres, other.metres);
  }
}
