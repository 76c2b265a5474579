package org.equiphase.workorder;

/** Where an assembly stands. */
public enum AssemblyState {
  /** No valid reading yet. */
  AWAITING_READING,
  /** Read, but its set cannot be solved before others are read; or it lies in the pool. */
  MEASURED,
  IN_TOLERANCE,
  /** An instruction is issued and not signed off. */
  INSTRUCTED,
  /** Signed off as cut or set; to be measured again. */
  ADJUSTED,
  /** Out of tolerance and accepted as it is by a concession. */
  CONCEDED,
  /** In tolerance, and so is its whole set. */
  MATCHED,
  ON_HOLD,
  /** Given up by QA; it stays at its position until another takes its place. */
  SCRAPPED,
  /** Its set is released: nothing of it may change any more. */
  RELEASED,
  /** Taken out of its position; its history stays. */
  REPLACED
}
