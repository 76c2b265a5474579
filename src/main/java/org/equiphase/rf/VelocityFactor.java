package org.equiphase.rf;

/**
 * Speed of the wave on a line as a fraction of the speed of light, above 0 and at most 1.
 *
 * @param value the fraction
 */
public record VelocityFactor(double value) {
  /** Vacuum. */
  public static final VelocityFactor VACUUM = new VelocityFactor(1);

  /**
   * @throws InvalidQuantityException for {@code velocityFactor} not above 0 and at most 1
   */
  public VelocityFactor {
    Require.positive("velocityFactor", value);
    if (value > 1) {
      throw new InvalidQuantityException(
          "velocityFactor", "velocityFactor must be above 0 and at most 1, not " + value);
    }
  }

  public static VelocityFactor of(double value) {
    return new VelocityFactor(value);
  }

  /**
   * Velocity factor of a line filled with a dielectric, 1/√εr.
   *
   * @param relativePermittivity εr, 1 or more
   */
  public static VelocityFactor ofRelativePermittivity(double relativePermittivity) {
    if (!(relativePermittivity >= 1) || Double.isInfinite(relativePermittivity)) {
      throw new InvalidQuantityException(
          "relativePermittivity",
          "relativePermittivity must be a finite number of 1 or more, not " + relativePermittivity);
    }
    return new VelocityFactor(1 / Math.sqrt(relativePermittivity));
  }

  /** Speed of the wave, v·c, m/s. */
  public double metresPerSecond() {
    return value * PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
  }

  /** Phase that one metre of line turns at a frequency, 360·f/(v·c), degrees per metre, one way. */
  public double degreesPerMetre(Frequency frequency) {
    double slope = 360 * frequency.hertz() / metresPerSecond();
    return Require.finiteResult("velocityFactor", value, slope);
  }
}
