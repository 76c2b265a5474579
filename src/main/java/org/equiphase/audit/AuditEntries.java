package org.equiphase.audit;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.equiphase.web.Like;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Repository;

/** The entries as the database has them. */
@Repository
class AuditEntries {

  /** Farther than this no entry lies out of the order of time, whichever instance wrote it. */
  private static final Duration DISORDER = Duration.ofDays(1);

  private static final String COLUMNS =
      "id, at, actor, action, subject_type, subject_key, details, previous_hash, hash";

  private final JdbcClient jdbc;

  AuditEntries(JdbcClient jdbc) {
    this.jdbc = jdbc;
  }

  void insert(AuditEntry entry) {
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

  /** The end of the chain, and nobody adds to it until the transaction ends. */
  ChainEnd lockEnd() {
    return end(" for update").orElseThrow();
  }

  /** The end of the chain; empty where someone removed it. */
  Optional<ChainEnd> end() {
    return end("");
  }

  private Optional<ChainEnd> end(String lock) {
    return jdbc.sql("select last_id, last_hash from audit_head where id = 1" + lock)
        .query((row, number) -> new ChainEnd(row.getLong(1), row.getString(2)))
        .optional();
  }

  void moveEnd(ChainEnd end) {
    jdbc.sql("update audit_head set last_id = ?, last_hash = ? where id = 1")
        .params(end.id(), end.hash())
        .update();
  }

  /** Ids of entries after the end of the chain, where there should be none. */
  List<Long> beyondEnd(int most) {
    return jdbc.sql(
            """
            select id from audit_entry where id > (select last_id from audit_head where id = 1)
            order by id limit ?
            """)
        .param(most)
        .query(Long.class)
        .list();
  }

  /** The next entries after an id, in their order. */
  List<AuditEntry> after(long id, int most) {
    return jdbc.sql("select " + COLUMNS + " from audit_entry where id > ? order by id limit ?")
        .param(id)
        .param(most)
        .query(AuditEntries::entry)
        .list();
  }

  Optional<AuditEntry> lastBefore(long id) {
    return jdbc.sql("select " + COLUMNS + " from audit_entry where id < ? order by id desc limit 1")
        .param(id)
        .query(AuditEntries::entry)
        .optional();
  }

  Optional<AuditEntry> entry(long id) {
    return jdbc.sql("select " + COLUMNS + " from audit_entry where id = ?")
        .param(id)
        .query(AuditEntries::entry)
        .optional();
  }

  /** Those that fit, the newest first; {@code lowest} and {@code before} bound their ids. */
  List<AuditEntry> fitting(EntryFilter filter, long lowest, long before, int most) {
    List<String> conditions = new ArrayList<>(List.of("id >= ?", "id < ?"));
    List<Object> values = new ArrayList<>(List.of(lowest, before));
    equal("actor", filter.actor(), conditions, values);
    equal("action", filter.action(), conditions, values);
    equal("subject_type", filter.subjectType(), conditions, values);
    equal("subject_key", filter.subjectKey(), conditions, values);
    Instant from = filter.from();
    if (from != null) {
      conditions.add("at >= ?");
      values.add(from.atOffset(ZoneOffset.UTC));
    }
    Instant to = filter.to();
    if (to != null) {
      conditions.add("at < ?");
      values.add(to.atOffset(ZoneOffset.UTC));
    }
    if (filter.text() != null) {
      conditions.add("lower(details) like lower(?) escape '!'");
      values.add(Like.containing(filter.text()));
    }
    values.add(most);
    return jdbc.sql(
            "select "
                + COLUMNS
                + " from audit_entry where "
                + String.join(" and ", conditions)
                + " order by "
                + order(filter)
                + " limit ?")
        .params(values)
        .query(AuditEntries::entry)
        .list();
  }

  /** Newest first, along the index of the field that narrows most: H2 would sort otherwise. */
  private static String order(EntryFilter filter) {
    if (filter.subjectKey() != null) {
      return "subject_key, id desc";
    }
    if (filter.action() != null) {
      return "action, id desc";
    }
    if (filter.actor() != null) {
      return "actor, id desc";
    }
    return filter.subjectType() != null ? "subject_type, id desc" : "id desc";
  }

  /** An id below which no entry is as late as a moment. */
  long idBefore(Instant moment) {
    return firstSince(moment.minus(DISORDER)).orElseGet(() -> lastId() + 1);
  }

  /** An id from which on no entry is as early as a moment. */
  long idAfter(Instant moment) {
    return firstSince(moment.plus(DISORDER)).orElseGet(() -> lastId() + 1);
  }

  private Optional<Long> firstSince(Instant moment) {
    return jdbc.sql("select id from audit_entry where at >= ? order by at limit 1")
        .param(moment.atOffset(ZoneOffset.UTC))
        .query(Long.class)
        .optional();
  }

  long lastId() {
    return jdbc.sql("select id from audit_entry order by id desc limit 1")
        .query(Long.class)
        .optional()
        .orElse(0L);
  }

  /** What occurs in an indexed column, found by jumping from each value to the next. */
  List<String> occurring(String column, int most) {
    List<String> found = new ArrayList<>();
    String last = "";
    while (found.size() < most) {
      Optional<String> next =
          jdbc.sql(
                  "select %1$s from audit_entry where %1$s >= ? order by %1$s limit 1"
                      .formatted(column))
              // For > H2 would read all entries that have the last value itself.
              .param(last + " ")
              .query(String.class)
              .optional();
      if (next.isEmpty()) {
        break;
      }
      last = next.get();
      found.add(last);
    }
    return found;
  }

  private static void equal(
      String column, @Nullable String value, List<String> conditions, List<Object> values) {
    if (value != null) {
      conditions.add(column + " = ?");
      values.add(value);
    }
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
}
