package org.equiphase.audit;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.audit.BrokenSeal.Fault;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DataAccessException;

/**
 * Compares the rows of one kind with their seals. What it keeps is a bit for each row and the rows
 * under suspicion: those whose last seal so far does not fit.
 */
final class SealWalk {

  /** How many rows are asked for at a time; some carry whole sweeps. */
  private static final int BATCH = 200;

  private static final int MANY = 10_000;

  /** Stands for the digest of a row that can't be read, and is none. */
  private static final String UNREADABLE = "unreadable";

  /** A row's seal. */
  record Sealing(long entryId, String sha256) {}

  /** A row that is not as the log says; entryId 0 where no entry tells of it. */
  record Found(Fault fault, long rowId, long entryId) {}

  private final Seal seal;
  private final IdSet sealed = new IdSet();
  private final Map<Long, Sealing> suspects = new HashMap<>();
  private final List<Long> unsealed = new ArrayList<>();
  private long unsealedBeyond;
  private boolean begun;

  SealWalk(Seal seal) {
    this.seal = seal;
  }

  /** From here on every such row must be sealed. */
  void begin() {
    begun = true;
  }

  boolean hasBegun() {
    return begun;
  }

  /** Takes the last seals of some rows, by row. */
  void accept(Map<Long, Sealing> seals) {
    List<Long> ids = new ArrayList<>(seals.keySet());
    ids.forEach(sealed::add);
    for (int from = 0; from < ids.size(); from += BATCH) {
      List<Long> batch = ids.subList(from, Math.min(from + BATCH, ids.size()));
      Map<Long, String> digests = digests(batch);
      for (Long id : batch) {
        Sealing sealing = seals.get(id);
        if (sealing == null || sealing.sha256().equals(digests.get(id))) {
          suspects.remove(id);
        } else {
          suspects.put(id, sealing);
        }
      }
    }
  }

  /** A row that holds what no such row can hold must not keep the others from being checked. */
  private Map<Long, String> digests(List<Long> ids) {
    try {
      return seal.digests(ids);
    } catch (DataAccessException e) {
      throw e;
    } catch (RuntimeException e) {
      if (ids.size() == 1) {
        return Map.of(ids.get(0), UNREADABLE);
      }
      Map<Long, String> digests = new HashMap<>();
      ids.forEach(id -> digests.putAll(digests(List.of(id))));
      return digests;
    }
  }

  /** Looks for rows that no entry tells of. */
  void findUnsealed() {
    if (!begun) {
      return;
    }
    List<Long> ids = seal.idsAfter(Long.MIN_VALUE, MANY);
    while (!ids.isEmpty()) {
      for (long id : ids) {
        if (!sealed.contains(id)) {
          if (unsealed.size() < MANY) {
            unsealed.add(id);
          } else {
            unsealedBeyond++;
          }
        }
      }
      ids = seal.idsAfter(ids.get(ids.size() - 1), MANY);
    }
  }

  boolean hasSuspects() {
    return !suspects.isEmpty() || !unsealed.isEmpty();
  }

  /**
   * Looks at the suspects once more. To be called while nobody can add entries and after those
   * added meanwhile were accepted, since a row may have been written and sealed again since.
   */
  void settle() {
    accept(Map.copyOf(suspects));
    unsealed.removeIf(sealed::contains);
  }

  List<Found> found() {
    List<Found> found = new ArrayList<>();
    List<Long> wrong = suspects.keySet().stream().sorted().limit(ChainCheck.MOST).toList();
    Map<Long, String> digests = wrong.isEmpty() ? Map.of() : digests(wrong);
    for (Long id : wrong) {
      Fault fault = digests.containsKey(id) ? Fault.CHANGED : Fault.REMOVED;
      found.add(new Found(fault, id, entryId(suspects.get(id))));
    }
    unsealed.stream()
        .limit(ChainCheck.MOST - found.size())
        .forEach(id -> found.add(new Found(Fault.ADDED, id, 0)));
    return found;
  }

  long faults() {
    return suspects.size() + unsealed.size() + unsealedBeyond;
  }

  long rows() {
    return sealed.size();
  }

  String kind() {
    return seal.kind();
  }

  Seal seal() {
    return seal;
  }

  IdSet sealed() {
    return sealed;
  }

  private static long entryId(@Nullable Sealing sealing) {
    return sealing == null ? 0 : sealing.entryId();
  }
}
