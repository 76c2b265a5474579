package org.equiphase.building;

/** Which sets are wanted of a pool. */
public enum Rule {
  /** As many as there are; among as many, the tightest. */
  MOST_SETS,
  /** So many sets, the widest of them as tight as can be. */
  TIGHTEST,
  /** So many sets, of those that were made first. */
  OLDEST_FIRST
}
