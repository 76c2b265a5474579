package org.equiphase.rf;

/**
 * Attenuation of a cable type: the conductors' part rises with √f (skin effect), the dielectric's
 * with f.
 *
 * @param skinDbPerM conductors' part at 1 GHz, dB/m, 0 or more
 * @param dielectricDbPerM dielectric's part at 1 GHz, dB/m, 0 or more
 */
public record CableLoss(double skinDbPerM, double dielectricDbPerM) {
  public CableLoss {
    Require.notNegative("skinDbPerM", skinDbPerM);
    Require.notNegative("dielectricDbPerM", dielectricDbPerM);
  }

  /** Attenuation at a frequency, dB/m: skin·√(f/GHz) + dielectric·(f/GHz). */
  public double dbPerMetre(Frequency frequency) {
    double gigahertz = frequency.inGigahertz();
    return skinDbPerM * Math.sqrt(gigahertz) + dielectricDbPerM * gigahertz;
  }

  /** Insertion loss of a length of cable, dB. */
  public double lossDb(Frequency frequency, Length length) {
    return dbPerMetre(frequency) * length.metres();
  }
}
