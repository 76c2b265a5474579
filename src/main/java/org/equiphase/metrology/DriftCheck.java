package org.equiphase.metrology;

import java.time.Instant;
import org.equiphase.rf.Require;

/**
 * One reading of a bench's reference cable.
 *
 * @param at when it was taken
 * @param phaseDeg its insertion phase, degrees, within ±1e9, wrapped or total, brought to the
 *     temperature of the baseline
 */
public record DriftCheck(Instant at, double phaseDeg) {
  /**
   * @throws org.equiphase.rf.InvalidQuantityException for a {@code phaseDeg} outside ±1e9
   */
  public DriftCheck {
    Require.within("phaseDeg", phaseDeg, -1e9, 1e9);
  }
}
