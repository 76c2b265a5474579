package org.equiphase.workorder;

/**
 * A channel of a set.
 *
 * @param offsetPhaseDeg deliberate phase offset at every frequency, degrees of insertion phase
 * @param offsetDelayPs deliberate delay offset; more delay is more negative insertion phase
 */
public record SetPosition(
    long id, int ordinal, String label, double offsetPhaseDeg, double offsetDelayPs) {

  /** The deliberate offset of this position's insertion phase at a frequency. */
  public double offsetDeg(double frequencyHz) {
    return offsetPhaseDeg - 360 * frequencyHz * offsetDelayPs * 1e-12;
  }
}
