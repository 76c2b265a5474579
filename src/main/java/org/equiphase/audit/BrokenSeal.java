package org.equiphase.audit;

import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A row that is not as the log says.
 *
 * @param kind see {@link Seal#kind}
 * @param id of the row
 * @param entry the last entry that sealed it; null where none did
 */
public record BrokenSeal(
    Fault fault, String kind, long id, Sentence what, @Nullable EntryHead entry) {

  /** What was done to a row. */
  public enum Fault {
    CHANGED,
    REMOVED,
    /** No entry tells of it. */
    ADDED
  }
}
