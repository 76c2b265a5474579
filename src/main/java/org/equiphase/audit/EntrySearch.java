package org.equiphase.audit;

import java.time.Instant;
import java.util.List;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Finds entries by a filter, newest first, page by page. */
@Component
class EntrySearch {

  /** Text in the details has no index: one page looks through so many entries, no more. */
  private static final long REACH = 50_000;

  private static final int BATCH = 1000;

  private final AuditEntries entries;

  EntrySearch(AuditEntries entries) {
    this.entries = entries;
  }

  /**
   * Some entries, newest first.
   *
   * @param next id before which the next page begins; null if there are no more
   */
  record Page(List<AuditEntry> entries, @Nullable Long next) {}

  Page page(EntryFilter filter, @Nullable Long before, int limit) {
    Bounds bounds = bounds(filter, before);
    return page(filter, bounds, limit);
  }

  /** All entries up to an end, each batch when the one before has been taken. */
  void each(EntryFilter filter, ChainEnd end, Consumer<AuditEntry> consumer) {
    Bounds bounds = bounds(filter, end.id() + 1);
    Long next = bounds.before();
    while (next != null) {
      Page page = page(filter, new Bounds(bounds.lowest(), next), BATCH);
      page.entries().forEach(consumer);
      next = page.next();
    }
  }

  private Page page(EntryFilter filter, Bounds bounds, int limit) {
    boolean bounded = filter.text() != null && bounds.before() - bounds.lowest() > REACH;
    long lowest = bounded ? bounds.before() - REACH : bounds.lowest();
    List<AuditEntry> found = entries.fitting(filter, lowest, bounds.before(), limit + 1);
    if (found.size() > limit) {
      List<AuditEntry> shown = found.subList(0, limit);
      return new Page(shown, shown.get(limit - 1).id());
    }
    return new Page(found, bounded ? lowest : null);
  }

  private record Bounds(long lowest, long before) {}

  private Bounds bounds(EntryFilter filter, @Nullable Long before) {
    Instant from = filter.from();
    Instant to = filter.to();
    long lowest = from == null ? Long.MIN_VALUE : entries.idBefore(from);
    long end = to == null ? Long.MAX_VALUE : entries.idAfter(to);
    if (filter.text() != null) {
      // Real ids, so that what the search reaches can be counted; one below the first may be a
      // forgery, which the check names.
      lowest = Math.max(lowest, 0);
      end = Math.min(end, entries.lastId() + 1);
    }
    return new Bounds(lowest, before == null ? end : Math.min(before, end));
  }
}
