package org.equiphase.audit;

import java.time.Instant;

/** Which entry it is, without its details. */
public record EntryHead(
    long id, Instant at, String actor, String action, String subjectType, String subjectKey) {

  /** Date and time in UTC, to the second. */
  public String time() {
    return EntryView.time(at);
  }

  static EntryHead of(AuditEntry entry) {
    return new EntryHead(
        entry.id(),
        entry.at(),
        entry.actor(),
        entry.action(),
        entry.subjectType(),
        entry.subjectKey());
  }
}
