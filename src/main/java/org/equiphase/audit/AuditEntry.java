package org.equiphase.audit;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HexFormat;

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
        hash(
            String.valueOf(id),
            kept.toString(),
            actor,
            action,
            subjectType,
            subjectKey,
            details,
            previousHash);
    return new AuditEntry(
        id, kept, actor, action, subjectType, subjectKey, details, previousHash, hash);
  }

  /** Whether the hash is that of the content. */
  boolean isIntact() {
    return chained(id, at, actor, action, subjectType, subjectKey, details, previousHash)
        .hash()
        .equals(hash);
  }

  /** Each field goes in with its length before it, so that text can't move between fields. */
  private static String hash(String... fields) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      for (String field : fields) {
        byte[] bytes = field.getBytes(StandardCharsets.UTF_8);
        digest.update((bytes.length + ":").getBytes(StandardCharsets.US_ASCII));
        digest.update(bytes);
      }
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
