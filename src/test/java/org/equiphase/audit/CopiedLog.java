package org.equiphase.audit;

import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.equiphase.RunningService;
import org.equiphase.load.Copy;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Writes the log anew after work was copied: each copy's entries, with the seals of its rows. */
public final class CopiedLog {

  private static final JsonMapper JSON = JsonMapper.builder().build();
  private static final int BATCH = 1000;

  /** Rows asked for at a time, as the check does. */
  private static final int ROWS = 200;

  private final JdbcTemplate jdbc;
  private final TransactionTemplate transaction;
  private final AuditEntries entries;
  private final Map<String, Seal> seals;
  private final List<AuditEntry> unwritten = new ArrayList<>();
  private ChainEnd end = new ChainEnd(0, ChainEnd.START);

  public CopiedLog(RunningService service) {
    jdbc = service.bean(JdbcTemplate.class);
    transaction = service.bean(TransactionTemplate.class);
    entries = service.bean(AuditEntries.class);
    seals = service.beans(Seal.class).stream().collect(Collectors.toMap(Seal::kind, s -> s));
  }

  /** The id of the last entry so far, once the check at the start has begun all seals. */
  public static long lastId(RunningService service) throws InterruptedException {
    service.bean(StartCheck.class).await();
    return service.bean(AuditEntries.class).lastId();
  }

  /**
   * @param before the last entry before the work that was copied
   * @return how many entries there are
   */
  public long write(long before, long copies) {
    List<AuditEntry> old = entries.after(0, Integer.MAX_VALUE);
    jdbc.update("delete from audit_entry");
    Copy first = new Copy(0, copies);
    for (AuditEntry entry : old) {
      if (entry.id() <= before) {
        add(entry, first, entry.subjectKey(), entry.details());
      }
    }
    List<AuditEntry> block = old.stream().filter(entry -> entry.id() > before).toList();
    for (long number = 0; number < copies; number++) {
      add(block, new Copy(number, copies));
    }
    flush();
    entries.moveEnd(end);
    return end.id();
  }

  private void add(List<AuditEntry> block, Copy copy) {
    List<JsonNode> details = new ArrayList<>();
    Map<String, List<Long>> sealed = new HashMap<>();
    for (AuditEntry entry : block) {
      JsonNode tree = JSON.readTree(entry.details());
      copy.apply(tree);
      details.add(tree);
      for (JsonNode row : tree.path(AuditLog.SEALED)) {
        sealed
            .computeIfAbsent(row.path("kind").asString(), kind -> new ArrayList<>())
            .add(row.path("id").asLong());
      }
    }
    Map<String, String> digests = new HashMap<>();
    sealed.forEach(
        (kind, ids) ->
            digests(kind, ids).forEach((id, sha256) -> digests.put(kind + " " + id, sha256)));
    for (int i = 0; i < block.size(); i++) {
      for (JsonNode row : details.get(i).path(AuditLog.SEALED)) {
        ((ObjectNode) row).put("sha256", digests.get(key(row)));
      }
      AuditEntry entry = block.get(i);
      add(
          entry,
          copy,
          copy.subject(entry.subjectType(), entry.subjectKey()),
          JSON.writeValueAsString(details.get(i)));
    }
  }

  private static String key(JsonNode row) {
    return row.path("kind").asString() + " " + row.path("id").asLong();
  }

  private Map<Long, String> digests(String kind, List<Long> ids) {
    Seal seal = Objects.requireNonNull(seals.get(kind), kind);
    Map<Long, String> digests = new HashMap<>();
    for (int from = 0; from < ids.size(); from += ROWS) {
      digests.putAll(seal.digests(ids.subList(from, Math.min(from + ROWS, ids.size()))));
    }
    return digests;
  }

  private void add(AuditEntry old, Copy copy, String subjectKey, String details) {
    AuditEntry entry =
        AuditEntry.chained(
            end.id() + 1,
            copy.time(old.at()),
            old.actor(),
            old.action(),
            old.subjectType(),
            subjectKey,
            details,
            end.hash());
    end = new ChainEnd(entry.id(), entry.hash());
    unwritten.add(entry);
    if (unwritten.size() == BATCH) {
      flush();
    }
  }

  private void flush() {
    transaction.executeWithoutResult(status -> insert());
    unwritten.clear();
  }

  private void insert() {
    jdbc.batchUpdate(
        "insert into audit_entry values (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        unwritten.stream()
            .map(
                e ->
                    new Object[] {
                      e.id(),
                      e.at().atOffset(ZoneOffset.UTC),
                      e.actor(),
                      e.action(),
                      e.subjectType(),
                      e.subjectKey(),
                      e.details(),
                      e.previousHash(),
                      e.hash()
                    })
            .toList());
  }
}
