package org.equiphase.audit;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * One thing that happened.
 *
 * @param id place in the chain, from 1, without gaps
 * @param at when, to the microsecond
 * @param actor username, or "system"
 * @param action what was done, e.g. PERSON_ADDED
 * @param subjectType kind of thing it was done to, e.g. person
 * @param subjectKey which one
 * @param details JSON object with its keys in order
 * @param previousHash hash of the entry before
 * @param hash SHA-256 over all the rest
 */
public record AuditEntry(
    long id,
    Instant at,
    String actor,
    String action,
    String subjectType,
    String subjectKey,
    String details,
    String previousHash,
    String hash) {

  /** Chains an entry to the one before. */
  static AuditEntry chained(
      long id,
      Instant at,
      String actor,
      String action,
      String subjectType,
      String subjectKey,
      String details,
      String previousHash) {
    Instant kept = at.truncatedTo(ChronoUnit.MICROS);
    String hash =
        new Digest()
            .whole(id)
            .time(kept)
            .text(actor)
            .text(action)
            .text(subjectType)
            .text(subjectKey)
            .text(details)
            .text(previousHash)
            .hex();
    return new AuditEntry(
        id, kept, actor, action, subjectType, subjectKey, details, previousHash, hash);
  }

  /** Whether the hash is that of the content. */
  boolean isIntact() {
    return isIntactAs(id);
  }

  /** Whether the hash is that of the content written as the entry with some id. */
  boolean isIntactAs(long someId) {
    return chained(someId, at, actor, action, subjectType, subjectKey, details, previousHash)
        .hash()
        .equals(hash);
  }
}
