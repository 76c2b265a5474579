package org.equiphase.audit;

import java.time.Clock;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** Keeps the log of who did what. Entries are only ever added. */
@Service
public class AuditLog {

  /** Name in the details of what an entry seals. */
  static final String SEALED = "sealed";

  /** As many as surely fit into the details of an entry. */
  static final int MOST_SEALED = 100;

  private static final JsonMapper CANONICAL =
      JsonMapper.builder().enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS).build();

  private final AuditEntries entries;
  private final EntrySearch search;
  private final Clock clock;

  AuditLog(AuditEntries entries, EntrySearch search, Clock clock) {
    this.entries = entries;
    this.search = search;
    this.clock = clock;
  }

  /**
   * Notes a change in the present transaction: if that is rolled back, so is the entry. It is
   * written right before the commit, so that the end of the chain is locked for a short time only
   * and always after all other rows.
   *
   * @param action what was done, in capitals, e.g. CUT_SIGNED_OFF
   * @param subjectType kind of thing it was done to, e.g. assembly
   * @param subjectKey which one, as people know it
   * @param details what else matters; values that JSON can hold
   * @param sealed rows that the change wrote and that must not change but by another entry; at most
   *     {@value #MOST_SEALED}, and see {@link Seal}
   * @throws IllegalStateException if there is no transaction
   */
  public void record(
      String action,
      String subjectType,
      String subjectKey,
      Map<String, ?> details,
      SealedRow... sealed) {
    if (!TransactionSynchronizationManager.isActualTransactionActive()) {
      throw new IllegalStateException("an audit entry belongs into the transaction of its change");
    }
    pending()
        .add(
            new Note(
                clock.instant(),
                Actor.name(),
                action,
                subjectType,
                subjectKey,
                CANONICAL.writeValueAsString(withSealed(details, sealed))));
  }

  private static Map<String, ?> withSealed(Map<String, ?> details, SealedRow... sealed) {
    if (sealed.length == 0) {
      return details;
    }
    if (sealed.length > MOST_SEALED) {
      throw new IllegalArgumentException(
          "one entry seals at most " + MOST_SEALED + " rows, not " + sealed.length);
    }
    Map<String, Object> all = new HashMap<>(details);
    all.put(SEALED, List.of(sealed));
    return all;
  }

  /**
   * Entries, newest first.
   *
   * @param before only those before this id, or null for the newest
   * @param limit how many at most
   */
  @Transactional(readOnly = true)
  public List<AuditEntry> entries(EntryFilter filter, @Nullable Long before, int limit) {
    return search.page(filter, before, limit).entries();
  }

  /** The same by person and thing; null for whichever. */
  @Transactional(readOnly = true)
  public List<AuditEntry> entries(
      @Nullable String actor,
      @Nullable String subjectType,
      @Nullable String subjectKey,
      @Nullable Long before,
      int limit) {
    return entries(
        new EntryFilter(actor, null, subjectType, subjectKey, null, null, null), before, limit);
  }

  /** The end of the chain now, to be kept elsewhere. */
  @Transactional(readOnly = true)
  public ChainEnd end() {
    return entries.end().orElseThrow();
  }

  private Pending pending() {
    for (TransactionSynchronization each :
        TransactionSynchronizationManager.getSynchronizations()) {
      if (each instanceof Pending pending) {
        return pending;
      }
    }
    Pending pending = new Pending();
    TransactionSynchronizationManager.registerSynchronization(pending);
    return pending;
  }

  private void append(List<Note> notes) {
    ChainEnd end = entries.lockEnd();
    for (Note note : notes) {
      AuditEntry entry =
          AuditEntry.chained(
              end.id() + 1,
              note.at(),
              note.actor(),
              note.action(),
              note.subjectType(),
              note.subjectKey(),
              note.details(),
              end.hash());
      entries.insert(entry);
      end = new ChainEnd(entry.id(), entry.hash());
    }
    entries.moveEnd(end);
  }

  private record Note(
      Instant at,
      String actor,
      String action,
      String subjectType,
      String subjectKey,
      String details) {}

  /** The entries of one transaction; what is rolled back to a savepoint takes its entries along. */
  private final class Pending implements TransactionSynchronization {
    private final List<Note> notes = new ArrayList<>();
    private final Map<Object, Integer> notesAtSavepoint = new IdentityHashMap<>();
    private boolean written;

    void add(Note note) {
      if (written) {
        append(List.of(note));
      } else {
        notes.add(note);
      }
    }

    @Override
    public void savepoint(Object savepoint) {
      notesAtSavepoint.put(savepoint, notes.size());
    }

    @Override
    public void savepointRollback(Object savepoint) {
      // Unknown is a savepoint from before the first entry.
      int kept = notesAtSavepoint.getOrDefault(savepoint, 0);
      notes.subList(kept, notes.size()).clear();
    }

    @Override
    public void beforeCommit(boolean readOnly) {
      append(notes);
      written = true;
    }
  }
}
