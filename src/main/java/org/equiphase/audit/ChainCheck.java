package org.equiphase.audit;

import org.jspecify.annotations.Nullable;

/**
 * What a check of the chain found.
 *
 * @param goodEntries how many entries from the first on are as they were written
 * @param firstBroken id of the first entry that was changed, removed or added, or null if none
 */
public record ChainCheck(long goodEntries, @Nullable Long firstBroken) {

  public boolean isIntact() {
    return firstBroken == null;
  }
}
