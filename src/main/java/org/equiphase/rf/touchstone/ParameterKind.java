package org.equiphase.rf.touchstone;

/** Network parameters that a file may hold. */
public enum ParameterKind {
  /** Scattering. */
  S,
  /** Admittance. */
  Y,
  /** Impedance. */
  Z,
  /** Hybrid-h, of two ports. */
  H,
  /** Hybrid-g, of two ports. */
  G
}
