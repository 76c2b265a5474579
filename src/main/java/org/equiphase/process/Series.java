package org.equiphase.process;

/**
 * Values that may be compared.
 *
 * @param frequencyHz 0 where the characteristic has none
 * @param referenceCable serial of the cable, and method of the checks; empty but for drift
 */
public record Series(
    long id,
    Characteristic characteristic,
    double frequencyHz,
    String referenceCable,
    String method) {

  static Series of(Characteristic characteristic, double frequencyHz) {
    return new Series(0, characteristic, frequencyHz, "", "");
  }
}
