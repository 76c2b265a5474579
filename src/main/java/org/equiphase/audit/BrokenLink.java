package org.equiphase.audit;

import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A place where the chain is not as it was written.
 *
 * @param firstId first entry at fault
 * @param lastId last one; the same for a single entry
 * @param entry the entry as it is now; null where it is gone
 * @param before the entry before the place, and after: the one after it; null at either end
 */
public record BrokenLink(
    Fault fault,
    long firstId,
    long lastId,
    Sentence what,
    @Nullable EntryHead entry,
    @Nullable EntryHead before,
    @Nullable EntryHead after) {

  /** What was done to an entry. */
  public enum Fault {
    /** Its hash is not that of its content. */
    CHANGED,
    /** It holds what was written as another entry. */
    MOVED,
    /** The entries are gone. */
    REMOVED,
    /** Content and hash go together, but not with the hash that the next entry holds. */
    REWRITTEN,
    /** It lies outside of the chain. */
    ADDED,
    /** The last entries are gone. */
    CUT_OFF,
    /** The end that was kept apart is another than that of the last entry. */
    END_DIFFERS,
    /** The end that was kept apart is gone. */
    END_GONE
  }
}
