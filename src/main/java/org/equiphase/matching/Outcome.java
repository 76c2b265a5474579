package org.equiphase.matching;

/** What a set needs. */
public enum Outcome {
  /** Every member is within its acceptance limit as it is. */
  MATCHED,
  /** Some members must be trimmed or their stretchers set; then all are within limits. */
  ADJUSTABLE,
  /** At least one member can't be brought in. */
  NEEDS_REPLACEMENT
}
