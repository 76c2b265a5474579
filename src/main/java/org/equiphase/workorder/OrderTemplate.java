package org.equiphase.workorder;

import org.equiphase.matching.Basis;
import org.equiphase.matching.Turns;

/**
 * Where a planner may start from. A template settles how a set is matched and judged; lengths,
 * allowances, frequencies and tolerances are the order's own and stay blank.
 */
public enum OrderTemplate {
  /** Equal phase at one frequency; whole turns apart do no harm. */
  NARROW_BAND_CW(Basis.SET, Turns.MODULO_360),
  /** Equal phase across a band, which only equal delay gives. */
  WIDE_BAND(Basis.SET, Turns.ABSOLUTE),
  /** A given delay, whatever the other assemblies have. */
  TRUE_DELAY(Basis.NOMINAL, Turns.ABSOLUTE),
  /** Members that differ from one another on purpose. */
  STAGGERED_OFFSETS(Basis.SET, Turns.ABSOLUTE);

  private final Basis basis;
  private final Turns turns;

  OrderTemplate(Basis basis, Turns turns) {
    this.basis = basis;
    this.turns = turns;
  }

  Basis basis() {
    return basis;
  }

  Turns turns() {
    return turns;
  }
}
