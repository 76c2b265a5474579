package org.equiphase.catalog;

import static org.equiphase.rf.PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;

/**
 * An adapter between the calibrated plane and the assembly; its delay and loss are taken off.
 *
 * @param lossDbAt1Ghz one-way loss at 1 GHz, growing with the square root of frequency
 */
public record Adapter(
    long id, int version, String name, double delayPs, double lossDbAt1Ghz, String note)
    implements CatalogEntry {

  /** One-way electrical length in mm. */
  public double electricalLengthMm() {
    return delayPs * 1e-9 * SPEED_OF_LIGHT_M_PER_S;
  }

  /** One-way insertion phase in degrees, as a positive number. */
  public double phaseDeg(double frequencyHz) {
    return 360e-12 * frequencyHz * delayPs;
  }

  /** One-way loss in dB. */
  public double lossDb(double frequencyHz) {
    return lossDbAt1Ghz * Math.sqrt(frequencyHz / 1e9);
  }
}
