package org.equiphase.audit;

import com.fasterxml.jackson.annotation.JsonRawValue;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** The audit log for programs. */
@RestController
@RequestMapping("/api/v1/audit")
class AuditApi {

  private static final int MOST = 1000;

  private final AuditLog log;

  AuditApi(AuditLog log) {
    this.log = log;
  }

  /** An entry; the details are a JSON object. */
  record Entry(
      long id,
      Instant at,
      String actor,
      String action,
      String subjectType,
      String subjectKey,
      @JsonRawValue String details,
      String previousHash,
      String hash) {

    static Entry of(AuditEntry entry) {
      return new Entry(
          entry.id(),
          entry.at(),
          entry.actor(),
          entry.action(),
          entry.subjectType(),
          entry.subjectKey(),
          entry.details(),
          entry.previousHash(),
          entry.hash());
    }
  }

  /** Newest first; pass the last id as {@code before} to get the next ones. */
  @GetMapping
  List<Entry> entries(
      @RequestParam(required = false) @Nullable String actor,
      @RequestParam(required = false) @Nullable String subjectType,
      @RequestParam(required = false) @Nullable String subjectKey,
      @RequestParam(required = false) @Nullable Long before,
      @RequestParam(defaultValue = "100") int limit) {
    int most = Math.min(Math.max(limit, 1), MOST);
    return log.entries(actor, subjectType, subjectKey, before, most).stream()
        .map(Entry::of)
        .toList();
  }

  /** Recomputes the chain of hashes. */
  @GetMapping("/chain")
  ChainCheck chain() {
    return log.verify();
  }
}
