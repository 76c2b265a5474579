package org.equiphase.move;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.OffsetDateTime;
import java.util.HexFormat;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Number of rows and a sum over their hashes, which is the same in whatever order they come. */
final class Fingerprint {

  private final MessageDigest sha256;
  private long rows;
  private long sum;

  Fingerprint() {
    try {
      sha256 = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  long rows() {
    return rows;
  }

  void add(List<@Nullable Object> row) {
    for (Object value : row) {
      byte[] text = text(value).getBytes(StandardCharsets.UTF_8);
      sha256.update(ByteBuffer.allocate(Integer.BYTES).putInt(text.length).array());
      sha256.update(text);
    }
    rows++;
    sum += ByteBuffer.wrap(sha256.digest()).getLong();
  }

  private static String text(@Nullable Object value) {
    // No text in PostgreSQL can be this.
    if (value == null) {
      return "\u0000";
    }
    if (value instanceof byte[] bytes) {
      return HexFormat.of().formatHex(bytes);
    }
    // The databases give the same moment in different zones.
    return value instanceof OffsetDateTime time ? time.toInstant().toString() : value.toString();
  }

  @Override
  public boolean equals(@Nullable Object other) {
    return other instanceof Fingerprint that && rows == that.rows && sum == that.sum;
  }

  @Override
  public int hashCode() {
    return Long.hashCode(31 * rows + sum);
  }
}
