package org.equiphase.rf;

/** Constants fixed by definition. */
public final class PhysicalConstants {
  /** Speed of light in vacuum, m/s; exact (SI Brochure, defining constants). */
  public static final double SPEED_OF_LIGHT_M_PER_S = 299_792_458.0;

  /** Millimetres in an inch; exact (international yard and pound agreement of 1959). */
  public static final double MILLIMETRES_PER_INCH = 25.4;

  private PhysicalConstants() {}
}
