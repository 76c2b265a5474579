package org.equiphase.audit;

import java.util.List;
import org.springframework.stereotype.Component;

/** What there is to filter by. */
@Component
class EntryWords {

  private static final int MOST = 200;

  private final AuditEntries entries;

  EntryWords(AuditEntries entries) {
    this.entries = entries;
  }

  /** The words that occur in the log, in alphabetical order. */
  record Words(List<String> actors, List<String> actions, List<String> subjectTypes) {}

  Words now() {
    return new Words(
        entries.occurring("actor", MOST),
        entries.occurring("action", MOST),
        entries.occurring("subject_type", MOST));
  }
}
