package org.equiphase.matching;

/** Whether whole turns of phase count. */
public enum Turns {
  /** Equal delay: the errors are total phases, every turn counts. */
  ABSOLUTE,
  /** Equal phase: each member may sit any whole number of turns away, at each frequency. */
  MODULO_360
}
