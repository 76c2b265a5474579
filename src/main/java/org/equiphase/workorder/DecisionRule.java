package org.equiphase.workorder;

/** How measurement uncertainty enters a verdict. */
public enum DecisionRule {
  /** Simple acceptance: the limit is the tolerance. */
  SIMPLE,
  /** Guarded acceptance: the limit is moved in by guard factor · U, U = 2·u. */
  GUARDED
}
