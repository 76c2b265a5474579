package org.equiphase.matching;

/** What the members of a set are matched to. */
public enum Basis {
  /** The target: the centre is zero error at every frequency. */
  NOMINAL,
  /** A named assembly: the centre is the master's own error; the master is never adjusted. */
  MASTER,
  /** One another: the centre is free at every frequency. */
  SET
}
