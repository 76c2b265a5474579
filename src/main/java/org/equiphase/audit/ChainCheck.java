package org.equiphase.audit;

import com.fasterxml.jackson.annotation.JsonProperty;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What a check of the chain and of all sealed rows found.
 *
 * @param at when it ended
 * @param entries how many entries there are
 * @param sealedRows how many rows they seal
 * @param end the end of the chain up to which was checked; null if it is gone
 * @param links places where the chain is broken, from its start on; at most {@value #MOST}
 * @param linksInAll how many there are
 * @param seals rows that are not as they were sealed; at most {@value #MOST} of a kind
 * @param sealsInAll how many there are
 */
public record ChainCheck(
    Instant at,
    long entries,
    long sealedRows,
    @Nullable ChainEnd end,
    List<BrokenLink> links,
    long linksInAll,
    List<BrokenSeal> seals,
    long sealsInAll) {

  static final int MOST = 100;

  public ChainCheck {
    links = List.copyOf(links);
    seals = List.copyOf(seals);
  }

  /** Whether all is as it was written. */
  public boolean isIntact() {
    return linksInAll == 0 && sealsInAll == 0;
  }

  /** Id of the first entry that was changed, removed or added, or null if none. */
  @JsonProperty
  public @Nullable Long firstBroken() {
    return links.isEmpty() ? null : links.get(0).firstId();
  }

  /** How many entries from the first on are as they were written. */
  @JsonProperty
  public long goodEntries() {
    return links.isEmpty() ? entries : Math.max(0, links.get(0).firstId() - 1);
  }
}
