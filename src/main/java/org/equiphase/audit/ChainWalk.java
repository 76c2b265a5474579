package org.equiphase.audit;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.audit.BrokenLink.Fault;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Follows the chain from its start. An entry counts as linked if it holds the hash that the entry
 * before it has; where that one is broken itself, the link to it tells nothing more.
 */
final class ChainWalk {

  /** A fault and the entry as it is now, where it is there. */
  record Found(Fault fault, long firstId, long lastId, Sentence what, @Nullable AuditEntry entry) {}

  private final List<Found> found = new ArrayList<>();
  private long faults;
  private long entries;
  private @Nullable AuditEntry last;
  private boolean lastIntact = true;

  void accept(AuditEntry entry) {
    entries++;
    if (entry.id() < 1) {
      fault(Fault.ADDED, entry.id(), entry.id(), entry, "audit.link.addedBefore", entry.id());
      return;
    }
    long expected = lastId() + 1;
    boolean gap = entry.id() > expected;
    if (gap) {
      removed(
          Fault.REMOVED, "audit.link.removed", "audit.link.removedOne", expected, entry.id() - 1);
    }
    boolean intact = entry.isIntact();
    if (!intact) {
      fault(Fault.CHANGED, entry.id(), entry.id(), entry, "audit.link.changed", entry.id());
    } else if (!gap && lastIntact && !entry.previousHash().equals(lastHash())) {
      unlinked(entry);
    }
    last = entry;
    lastIntact = intact;
  }

  private void unlinked(AuditEntry entry) {
    AuditEntry before = last;
    if (before == null) {
      fault(Fault.REWRITTEN, 1, 1, entry, "audit.link.noStart", entry.id());
    } else {
      fault(
          Fault.REWRITTEN,
          before.id(),
          before.id(),
          before,
          "audit.link.rewritten",
          before.id(),
          entry.id());
    }
  }

  /** Compares the last entry with the end that is kept apart. */
  void finish(@Nullable ChainEnd end, List<AuditEntry> beyond) {
    if (end == null) {
      fault(Fault.END_GONE, lastId() + 1, lastId() + 1, null, "audit.link.endGone", lastId());
      return;
    }
    if (lastId() < end.id()) {
      removed(Fault.CUT_OFF, "audit.link.cutOff", "audit.link.cutOffOne", lastId() + 1, end.id());
    } else if (lastIntact && !end.hash().equals(lastHash())) {
      fault(Fault.END_DIFFERS, lastId(), lastId(), last, "audit.link.endDiffers", lastId());
    }
    for (AuditEntry entry : beyond) {
      fault(
          Fault.ADDED,
          entry.id(),
          entry.id(),
          entry,
          "audit.link.addedAfter",
          entry.id(),
          end.id());
    }
  }

  /** What was found, entries that hold each other's content told as such. */
  List<Found> found() {
    return found.stream().map(this::moved).toList();
  }

  long faults() {
    return faults;
  }

  long entries() {
    return entries;
  }

  long lastId() {
    return last == null ? 0 : last.id();
  }

  private String lastHash() {
    return last == null ? ChainEnd.START : last.hash();
  }

  private Found moved(Found changed) {
    AuditEntry entry = changed.entry();
    if (changed.fault() != Fault.CHANGED || entry == null) {
      return changed;
    }
    return found.stream()
        .filter(other -> other.fault() == Fault.CHANGED || other.fault() == Fault.REMOVED)
        .filter(other -> other != changed && other.firstId() == other.lastId())
        .map(Found::firstId)
        .filter(entry::isIntactAs)
        .findFirst()
        .map(
            id ->
                new Found(
                    Fault.MOVED,
                    entry.id(),
                    entry.id(),
                    Sentence.of("audit.link.moved", entry.id(), id),
                    entry))
        .orElse(changed);
  }

  private void removed(Fault fault, String several, String one, long firstId, long lastId) {
    if (firstId == lastId) {
      fault(fault, firstId, lastId, null, one, firstId);
    } else {
      fault(fault, firstId, lastId, null, several, firstId, lastId);
    }
  }

  private void fault(
      Fault fault,
      long firstId,
      long lastId,
      @Nullable AuditEntry entry,
      String key,
      Long... values) {
    faults++;
    if (found.size() < ChainCheck.MOST) {
      found.add(new Found(fault, firstId, lastId, Sentence.of(key, values), entry));
    }
  }
}
