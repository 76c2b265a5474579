package org.equiphase.metrology;

/** Whether two readings of one set have an error of their own or the same one. */
public enum Sharing {
  /** A new error with each reading; in a difference of two the standard uncertainty grows by √2. */
  INDEPENDENT,
  /** The same error in all readings of a set; it cancels in a difference. */
  COMMON
}
