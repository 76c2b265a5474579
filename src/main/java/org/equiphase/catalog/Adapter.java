package org.equiphase.catalog;

import org.equiphase.rf.ReferencePlane;

/**
 * An adapter between the calibrated plane and the assembly; its delay and loss are taken off.
 *
 * @param delayPs one-way delay; negative where the calibration already takes off more than is there
 * @param lossDbAt1Ghz one-way loss at 1 GHz, growing with the square root of frequency
 */
public record Adapter(
    long id, int version, String name, double delayPs, double lossDbAt1Ghz, String note)
    implements CatalogEntry {

  /** What this adapter alone adds to a reading. */
  public ReferencePlane toRf() {
    return ReferencePlane.ofPicoseconds(delayPs, lossDbAt1Ghz);
  }

  /** One-way electrical length in mm. */
  public double electricalLengthMm() {
    return toRf().delay().electricalLength().inMillimetres();
  }
}
