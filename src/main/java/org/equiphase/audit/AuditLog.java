package org.equiphase.audit;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import tools.jackson.databind.SerializationFeature;
import tools.jackson.databind.json.JsonMapper;

/** Keeps the log of who did what. Entries are only ever added. */
@Service
public class AuditLog {

  private static final String COLUMNS =
      "id, at, actor, action, subject_type, subject_key, details, previous_hash, hash";

  /** Name in the details of what an entry seals. */
  static final String SEALED = "sealed";

  /** As many as surely fit into the details of an entry. */
  static final int MOST_SEALED = 100;

  private static final JsonMapper CANONICAL =
      JsonMapper.builder().enable(SerializationFeature.ORDER_MAP_ENTRIES_BY_KEYS).build();

  private final JdbcClient jdbc;
  private final Clock clock;

  AuditLog(JdbcClient jdbc, Clock clock) {
    this.jdbc = jdbc;
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
   * @param actor only this person's, or null
   * @param subjectType only of this kind, or null
   * @param subjectKey only of this thing, or null
   * @param before only those before this id, or null for the newest
   * @param limit how many at most
   */
  @Transactional(readOnly = true)
  public List<AuditEntry> entries(
      @Nullable String actor,
      @Nullable String subjectType,
      @Nullable String subjectKey,
      @Nullable Long before,
      int limit) {
    List<String> conditions = new ArrayList<>();
    Map<String, Object> values = new HashMap<>();
    condition("actor = :actor", "actor", actor, conditions, values);
    condition("subject_type = :type", "type", subjectType, conditions, values);
    condition("subject_key = :key", "key", subjectKey, conditions, values);
    condition("id < :before", "before", before, conditions, values);
    values.put("limit", limit);
    String where = conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions);
    return jdbc.sql(
            "select " + COLUMNS + " from audit_entry" + where + " order by id desc limit :limit")
        .params(values)
        .query(AuditLog::entry)
        .list();
  }

  /** Recomputes the whole chain. */
  @Transactional(readOnly = true)
  public ChainCheck verify() {
    Head head = head("");
    String previousHash = Head.START;
    long checked = 0;
    try (Stream<AuditEntry> entries =
        jdbc
            .sql("select " + COLUMNS + " from audit_entry where id <= ? order by id")
            .param(head.id())
            .withFetchSize(1000)
            .query(AuditLog::entry)
            .stream()) {
      for (AuditEntry entry : (Iterable<AuditEntry>) entries::iterator) {
        boolean linked = entry.id() == checked + 1 && entry.previousHash().equals(previousHash);
        if (!linked || !entry.isIntact()) {
          return new ChainCheck(checked, checked + 1);
        }
        previousHash = entry.hash();
        checked++;
      }
    }
    boolean whole = checked == head.id() && previousHash.equals(head.hash());
    return new ChainCheck(checked, whole ? null : Math.min(checked + 1, Math.max(head.id(), 1)));
  }

  private static void condition(
      String sql,
      String name,
      @Nullable Object value,
      List<String> conditions,
      Map<String, Object> values) {
    if (value != null) {
      conditions.add(sql);
      values.put(name, value);
    }
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
    Head head = head(" for update");
    for (Note note : notes) {
      AuditEntry entry =
          AuditEntry.chained(
              head.id() + 1,
              note.at(),
              note.actor(),
              note.action(),
              note.subjectType(),
              note.subjectKey(),
              note.details(),
              head.hash());
      insert(entry);
      head = new Head(entry.id(), entry.hash());
    }
    jdbc.sql("update audit_head set last_id = ?, last_hash = ? where id = 1")
        .params(head.id(), head.hash())
        .update();
  }

  private void insert(AuditEntry entry) {
    jdbc.sql("insert into audit_entry (" + COLUMNS + ") values (?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .params(
            entry.id(),
            entry.at().atOffset(ZoneOffset.UTC),
            entry.actor(),
            entry.action(),
            entry.subjectType(),
            entry.subjectKey(),
            entry.details(),
            entry.previousHash(),
            entry.hash())
        .update();
  }

  private Head head(String lock) {
    return jdbc.sql("select last_id, last_hash from audit_head where id = 1" + lock)
        .query((row, number) -> new Head(row.getLong(1), row.getString(2)))
        .single();
  }

  private static AuditEntry entry(ResultSet row, int number) throws SQLException {
    return new AuditEntry(
        row.getLong(1),
        row.getObject(2, OffsetDateTime.class).toInstant(),
        row.getString(3),
        row.getString(4),
        row.getString(5),
        row.getString(6),
        row.getString(7),
        row.getString(8),
        row.getString(9));
  }

  private record Head(long id, String hash) {
    static final String START = "0".repeat(64);
  }

  private record Note(
      Instant at,
      String actor,
      String action,
      String subjectType,
      String subjectKey,
      String details) {}

  /** The entries of one transaction. */
  private final class Pending implements TransactionSynchronization {
    private final List<Note> notes = new ArrayList<>();
    private boolean written;

    void add(Note note) {
      if (written) {
        append(List.of(note));
      } else {
        notes.add(note);
      }
    }

    @Override
    public void beforeCommit(boolean readOnly) {
      append(notes);
      written = true;
    }
  }
}
