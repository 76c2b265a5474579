package org.equiphase.catalog;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;
import org.equiphase.audit.AuditLog;
import org.equiphase.web.ConflictException;
import org.equiphase.web.NotFoundException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.support.GeneratedKeyHolder;

/** The stored entries of one kind: reads, checked and versioned writes, the audit of each write. */
abstract class Shelf<T extends CatalogEntry> {
  private static final int NAME_LENGTH = 80;
  private static final int NOTE_LENGTH = 1000;

  private final JdbcClient jdbc;
  private final AuditLog audit;
  private final String table;
  private final String noun;

  Shelf(JdbcClient jdbc, AuditLog audit, String table, String noun) {
    this.jdbc = jdbc;
    this.audit = audit;
    this.table = table;
    this.noun = noun;
  }

  /** Adds what is wrong with the draft beyond its name and note. */
  abstract void check(T draft, DraftProblems problems);

  /** The values of the kind's own columns. */
  abstract Map<String, @Nullable Object> columns(T draft);

  /** Reads rows of the kind; only the given one where the id is not null. */
  abstract RowMapper<T> reader(@Nullable Long onlyId);

  /** What the child tables hold, as one text for the audit. */
  String details(T entry) {
    return "";
  }

  /** Writes the child tables anew. */
  void writeChildren(long id, T draft) {}

  List<T> all() {
    return jdbc.sql("select * from " + table + " order by name").query(reader(null)).list();
  }

  Optional<T> find(long id) {
    return EntriesRead.find(this, id, () -> read(id));
  }

  private Optional<T> read(long id) {
    return jdbc.sql("select * from " + table + " where id = :id")
        .param("id", id)
        .query(reader(id))
        .optional();
  }

  T get(long id) {
    return find(id).orElseThrow(() -> new NotFoundException(noun, id));
  }

  Optional<T> byName(String name) {
    return jdbc.sql("select id from " + table + " where name = :name")
        .param("name", name.strip())
        .query(Long.class)
        .optional()
        .flatMap(this::find);
  }

  T save(T draft, DraftProblems problems) {
    problems.line("name", draft.name().strip(), NAME_LENGTH);
    problems.note(draft.note().strip(), NOTE_LENGTH);
    check(draft, problems);
    if (nameIsTaken(draft)) {
      problems.add("name", nameTaken(draft));
    }
    problems.throwIfAny();
    // Before, so that a draft meets what is stored now; after, so that others see what it became.
    EntriesRead.forget();
    long id = draft.id() == 0 ? insert(draft) : update(draft);
    EntriesRead.forget();
    return get(id);
  }

  private long insert(T draft) {
    Map<String, @Nullable Object> values = allColumns(draft);
    GeneratedKeyHolder key = new GeneratedKeyHolder();
    jdbc.sql(
            "insert into %s (version, %s) values (1, %s)"
                .formatted(
                    table,
                    String.join(", ", values.keySet()),
                    values.keySet().stream().map(c -> ":" + c).collect(Collectors.joining(", "))))
        .params(values)
        .update(key, "id");
    long id = Objects.requireNonNull(key.getKey()).longValue();
    writeChildren(id, draft);
    Map<String, Object> created = auditValues(draft);
    created.values().removeIf(""::equals);
    audit("ADDED", id, draft, created);
    return id;
  }

  private long update(T draft) {
    T before = get(draft.id());
    Map<String, @Nullable Object> values = allColumns(draft);
    Map<String, @Nullable Object> params = new HashMap<>(values);
    params.put("entry_id", draft.id());
    params.put("entry_version", draft.version());
    int rows =
        jdbc.sql(
                "update %s set version = version + 1, %s where id = :entry_id and version = :entry_version"
                    .formatted(
                        table,
                        values.keySet().stream()
                            .map(c -> c + " = :" + c)
                            .collect(Collectors.joining(", "))))
            .params(params)
            .update();
    if (rows == 0) {
      EntriesRead.forget();
      throw new ConflictException(
          Sentence.of(
              "catalog.changedMeanwhile",
              NotFoundException.kind(noun),
              before.name(),
              draft.version(),
              get(draft.id()).version()));
    }
    writeChildren(draft.id(), draft);
    audit("CHANGED", draft.id(), draft, changes(before, draft));
    return draft.id();
  }

  private Map<String, @Nullable Object> allColumns(T draft) {
    Map<String, @Nullable Object> values = new LinkedHashMap<>();
    values.put("name", draft.name().strip());
    values.putAll(columns(draft));
    values.put("note", draft.note().strip());
    return values;
  }

  private void audit(String action, long id, T draft, Map<String, Object> details) {
    details.put("id", id);
    String prefix = table.toUpperCase(Locale.ROOT) + "_";
    audit.record(prefix + action, noun, draft.name().strip(), details);
  }

  private Map<String, Object> auditValues(T entry) {
    Map<String, Object> values = new LinkedHashMap<>();
    allColumns(entry).forEach((column, value) -> values.put(column, auditValue(value)));
    values.put("details", details(entry));
    return values;
  }

  private static Object auditValue(@Nullable Object value) {
    if (value == null) {
      return "";
    }
    return value instanceof LocalDate ? value.toString() : value;
  }

  private Map<String, Object> changes(T before, T after) {
    Map<String, Object> old = auditValues(before);
    Map<String, Object> changed = new LinkedHashMap<>();
    auditValues(after)
        .forEach(
            (column, value) -> {
              Object was = Objects.requireNonNull(old.get(column));
              if (!was.equals(value)) {
                changed.put(column, Map.of("from", was, "to", value));
              }
            });
    return changed;
  }

  private boolean nameIsTaken(T draft) {
    return jdbc.sql(
                "select count(*) from " + table + " where lower(name) = lower(:name) and id <> :id")
            .param("name", draft.name().strip())
            .param("id", draft.id())
            .query(Long.class)
            .single()
        > 0;
  }

  private Sentence nameTaken(T draft) {
    return Sentence.of("catalog.nameTaken", NotFoundException.kind(noun), draft.name().strip());
  }

  JdbcClient jdbc() {
    return jdbc;
  }

  /** The rows of a child table by the id of the entry that they belong to. */
  <C> Map<Long, List<C>> children(
      String childTable,
      String ownerColumn,
      String order,
      @Nullable Long onlyOwner,
      RowMapper<C> mapper) {
    record Owned<C>(long owner, C child) {}
    String where = onlyOwner == null ? "" : " where " + ownerColumn + " = :owner";
    return jdbc
        .sql("select * from " + childTable + where + " order by " + order)
        .params(onlyOwner == null ? Map.of() : Map.of("owner", onlyOwner))
        .query((row, i) -> new Owned<>(row.getLong(ownerColumn), mapper.mapRow(row, i)))
        .stream()
        .collect(
            Collectors.groupingBy(
                Owned::owner, Collectors.mapping(Owned::child, Collectors.toList())));
  }

  /** Removes the child rows of one entry, so that its next version can be written. */
  void clearChildren(String childTable, String ownerColumn, long owner) {
    jdbc.sql("delete from " + childTable + " where " + ownerColumn + " = :owner")
        .param("owner", owner)
        .update();
  }

  static @Nullable LocalDate date(ResultSet row, String column) throws SQLException {
    return row.getObject(column, LocalDate.class);
  }
}
