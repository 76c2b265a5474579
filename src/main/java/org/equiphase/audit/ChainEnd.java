package org.equiphase.audit;

/**
 * The end of the chain. Whoever keeps a copy of it elsewhere can tell later whether the chain up to
 * there is still the same.
 *
 * @param id of the last entry, 0 before the first
 * @param hash of the last entry
 */
public record ChainEnd(long id, String hash) {

  /** What the first entry holds as the hash before it. */
  static final String START = "0".repeat(64);
}
