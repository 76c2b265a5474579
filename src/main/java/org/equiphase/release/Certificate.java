package org.equiphase.release;

import java.time.Instant;

/**
 * A certificate of match as it was signed.
 *
 * @param number its own number
 * @param set what is certified
 * @param auditHead where the audit chain ended when it was signed
 */
public record Certificate(
    String number, CertifiedSet set, Signature signature, ChainEnd auditHead) {

  /**
   * Who released the set.
   *
   * @param username what the person signs in with
   * @param remark what the person added; empty for nothing
   */
  public record Signature(String username, String displayName, Instant at, String remark) {}

  /** The last entry of the audit chain. */
  public record ChainEnd(long entry, String hash) {}
}
