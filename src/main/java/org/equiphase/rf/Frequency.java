package org.equiphase.rf;

/**
 * A frequency, from 1 Hz to 1 THz.
 *
 * @param hertz the frequency, Hz
 */
public record Frequency(double hertz) implements Comparable<Frequency> {
  private static final double LOWEST_HZ = 1;
  private static final double HIGHEST_HZ = 1e12;

  /**
   * @throws InvalidQuantityException for {@code frequencyHz} outside 1 Hz to 1 THz, or not finite
   */
  public Frequency {
    Require.within("frequencyHz", hertz, LOWEST_HZ, HIGHEST_HZ);
  }

  public static Frequency ofHertz(double hertz) {
    return new Frequency(hertz);
  }

  public static Frequency ofMegahertz(double megahertz) {
    return new Frequency(megahertz * 1e6);
  }

  public static Frequency ofGigahertz(double gigahertz) {
    return new Frequency(gigahertz * 1e9);
  }

  public double inMegahertz() {
    return hertz / 1e6;
  }

  public double inGigahertz() {
    return hertz / 1e9;
  }

  /** Wavelength in vacuum, c/f. */
  public Length wavelength() {
    return Length.ofMetres(PhysicalConstants.SPEED_OF_LIGHT_M_PER_S / hertz);
  }

  @Override
  public int compareTo(Frequency other) {
    return Double.compare(hertz, other.hertz);
  }
}
