package org.equiphase.review;

/** Why QA decides about an assembly. */
public enum ReasonCode {
  TOO_LONG,
  TOO_SHORT,
  /** A cut landed off its mark. */
  CUT_OFF_ITS_MARK,
  /** The phase is no pure delay: a connector or the cable itself. */
  NOT_A_PURE_DELAY,
  INSERTION_LOSS,
  VSWR,
  /** In tolerance, but not certain enough to be. */
  MARGINAL,
  READING_IN_DOUBT,
  DRIFT,
  CONNECTOR_FAULT,
  CABLE_DAMAGED,
  WRONG_PART,
  /** Said in the text. */
  OTHER
}
