package org.equiphase.audit;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Follows what the entries seal, kind by kind. */
final class SealWalks {

  private static final JsonMapper JSON = JsonMapper.builder().build();

  private final Map<String, SealWalk> walks = new LinkedHashMap<>();

  SealWalks(List<Seal> seals) {
    seals.forEach(seal -> walks.put(seal.kind(), new SealWalk(seal)));
  }

  void accept(List<AuditEntry> entries) {
    Map<String, Map<Long, SealWalk.Sealing>> last = new HashMap<>();
    for (AuditEntry entry : entries) {
      for (SealedRow row : sealed(entry.details())) {
        last.computeIfAbsent(row.kind(), kind -> new LinkedHashMap<>())
            .put(row.id(), new SealWalk.Sealing(entry.id(), row.sha256()));
      }
      if (entry.action().equals(SealBeginning.BEGUN)) {
        SealWalk walk = walks.get(entry.subjectKey());
        if (walk != null) {
          walk.begin();
        }
      }
    }
    last.forEach(
        (kind, seals) -> {
          SealWalk walk = walks.get(kind);
          if (walk != null) {
            walk.accept(seals);
          }
        });
  }

  /** What an entry seals; nothing where its details are no longer what the service wrote. */
  static List<SealedRow> sealed(String details) {
    if (!details.contains("\"" + AuditLog.SEALED + "\"")) {
      return List.of();
    }
    try {
      JsonNode rows = JSON.readTree(details).path(AuditLog.SEALED);
      return rows.valueStream()
          .map(
              row ->
                  new SealedRow(
                      row.path("kind").asString(""),
                      row.path("id").asLong(0),
                      row.path("sha256").asString("")))
          .toList();
    } catch (JacksonException e) {
      return List.of();
    }
  }

  void findUnsealed() {
    walks.values().forEach(SealWalk::findUnsealed);
  }

  boolean hasSuspects() {
    return walks.values().stream().anyMatch(SealWalk::hasSuspects);
  }

  void settle() {
    walks.values().forEach(SealWalk::settle);
  }

  Stream<SealWalk> all() {
    return walks.values().stream();
  }

  long rows() {
    return walks.values().stream().mapToLong(SealWalk::rows).sum();
  }

  long faults() {
    return walks.values().stream().mapToLong(SealWalk::faults).sum();
  }
}
