package org.equiphase.rf.touchstone;

/**
 * How much a reader takes in before it refuses a file.
 *
 * @param maxBytes largest file, bytes (characters where a {@code Reader} is read)
 * @param maxPoints most frequency points
 * @param maxLineLength longest line, characters
 */
public record ReadLimits(long maxBytes, int maxPoints, int maxLineLength) {
  /** 20 MB, 200 001 points, lines of 10 000 characters: several times any usual file. */
  public static final ReadLimits USUAL = new ReadLimits(20L << 20, 200_001, 10_000);

  public ReadLimits {
    if (maxBytes < 1 || maxPoints < 1 || maxLineLength < 1) {
      throw new IllegalArgumentException("limits must be 1 or more");
    }
  }
}
