package org.equiphase.audit;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.HexFormat;
import org.jspecify.annotations.Nullable;

/**
 * SHA-256 over a row of values, the same on every Java and every database. Each value goes in as
 * UTF-8 text with its length in bytes and a colon before it, so that text can't move between
 * fields; a missing value is a single minus. Numbers are written exactly, in hexadecimal as by
 * {@link Double#toHexString}; times in ISO 8601 to the microsecond, which is what databases keep.
 */
public final class Digest {

  private static final byte[] MISSING = {'-'};

  private final MessageDigest sha256;

  public Digest() {
    try {
      sha256 = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  public Digest bytes(byte @Nullable [] value) {
    if (value == null) {
      sha256.update(MISSING);
    } else {
      sha256.update((value.length + ":").getBytes(StandardCharsets.US_ASCII));
      sha256.update(value);
    }
    return this;
  }

  public Digest text(@Nullable String value) {
    return bytes(value == null ? null : value.getBytes(StandardCharsets.UTF_8));
  }

  /** Minus zero counts as zero, since not every database keeps it. */
  public Digest number(@Nullable Double value) {
    return text(value == null ? null : Double.toHexString(value + 0.0));
  }

  public Digest whole(@Nullable Long value) {
    return text(value == null ? null : value.toString());
  }

  public Digest time(@Nullable Instant value) {
    return text(value == null ? null : value.truncatedTo(ChronoUnit.MICROS).toString());
  }

  /** The digest in lower-case hexadecimal; to be asked for once, at the end. */
  public String hex() {
    return HexFormat.of().formatHex(sha256.digest());
  }
}
