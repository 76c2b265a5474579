package org.equiphase.workorder;

/** Where an assembly stands. */
public enum AssemblyState {
  /** No valid reading yet. */
  AWAITING_READING("awaiting reading"),
  /** Read, but its set cannot be solved before others are read; or it lies in the pool. */
  MEASURED("measured"),
  IN_TOLERANCE("in tolerance"),
  /** An instruction is issued and not signed off. */
  INSTRUCTED("instruction issued"),
  /** Signed off as cut or set; to be measured again. */
  ADJUSTED("measure again"),
  /** In tolerance, and so is its whole set. */
  MATCHED("matched"),
  ON_HOLD("on hold"),
  /** Taken out of its position; its history stays. */
  REPLACED("replaced");

  private final String label;

  AssemblyState(String label) {
    this.label = label;
  }

  public String label() {
    return label;
  }
}
