package org.equiphase.metrology;

import java.time.Instant;

/**
 * One reading of a bench's reference cable.
 *
 * @param at when it was taken
 * @param phaseDeg its insertion phase, degrees, wrapped or total, brought to the temperature of the
 *     baseline
 */
public record DriftCheck(Instant at, double phaseDeg) {
  /**
   * @throws org.equiphase.rf.InvalidQuantityException for a {@code phaseDeg} that is not finite
   */
  public DriftCheck {
    Require.finite("phaseDeg", phaseDeg);
  }
}
