package org.equiphase.audit;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Begins to seal a kind of row: those from before are sealed as they are found, once; from then on
 * a row that no entry tells of was added behind the service's back.
 */
@Component
class SealBeginning {

  /** Action of the entry that tells of it; its subject's key is the kind. */
  static final String BEGUN = "SEALING_BEGUN";

  private static final String SUBJECT = "sealed rows";

  private final AuditEntries entries;
  private final AuditLog log;
  private final TransactionTemplate transaction;

  SealBeginning(AuditEntries entries, AuditLog log, PlatformTransactionManager transactions) {
    this.entries = entries;
    this.log = log;
    this.transaction = new TransactionTemplate(transactions);
  }

  /**
   * @param sealed ids of such rows that are sealed already
   */
  void begin(Seal seal, IdSet sealed) {
    List<Long> ids = seal.idsAfter(Long.MIN_VALUE, AuditLog.MOST_SEALED);
    while (!ids.isEmpty()) {
      Set<Long> bare = Set.copyOf(ids.stream().filter(id -> !sealed.contains(id)).toList());
      if (!bare.isEmpty()) {
        transaction.executeWithoutResult(status -> seal(seal, bare));
      }
      ids = seal.idsAfter(ids.get(ids.size() - 1), AuditLog.MOST_SEALED);
    }
    transaction.executeWithoutResult(status -> log.record(BEGUN, SUBJECT, seal.kind(), Map.of()));
  }

  /** With the end of the chain held, so that no row is sealed as it was before another's change. */
  private void seal(Seal seal, Set<Long> ids) {
    entries.lockEnd();
    SealedRow[] rows =
        seal.digests(ids).entrySet().stream()
            .map(row -> new SealedRow(seal.kind(), row.getKey(), row.getValue()))
            .toArray(SealedRow[]::new);
    log.record("SEALED_AS_FOUND", SUBJECT, seal.kind(), Map.of("rows", rows.length), rows);
  }
}
