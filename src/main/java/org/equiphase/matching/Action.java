package org.equiphase.matching;

/** What to do with one member. Declared from the most to the least welcome. */
public enum Action {
  /** Leave it as it is. */
  NONE,
  /** Set its line stretcher. */
  STRETCH,
  /** Cut it. */
  TRIM,
  /** No adjustment brings it in: replace it. */
  REPLACE
}
