package org.equiphase.workbook;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.audit.Digest;

/**
 * What a row was printed from. It carries a hash over itself and the row's serial number, so that a
 * row whose cells were shifted against each other is noticed.
 *
 * @param readingId the reading that counted; 0 for none
 * @param instructionId the instruction that stood; 0 for none
 * @param version of that instruction
 */
record RowKey(long orderId, long assemblyId, long readingId, long instructionId, int version) {

  private static final Pattern TEXT =
      Pattern.compile("K(\\d{1,18})-(\\d{1,18})-(\\d{1,18})-(\\d{1,18})-(\\d{1,9})-([0-9a-f]{16})");

  String text(String serial) {
    return "K%d-%d-%d-%d-%d-%s"
        .formatted(orderId, assemblyId, readingId, instructionId, version, hash(serial));
  }

  private String hash(String serial) {
    return new Digest()
        .whole(orderId)
        .whole(assemblyId)
        .whole(readingId)
        .whole(instructionId)
        .whole((long) version)
        .text(serial)
        .hex()
        .substring(0, 16);
  }

  /** The key in a cell; empty where it is none. */
  static Optional<RowKey> read(String cell) {
    Matcher parts = TEXT.matcher(cell.strip());
    return parts.matches()
        ? Optional.of(
            new RowKey(
                Long.parseLong(parts.group(1)),
                Long.parseLong(parts.group(2)),
                Long.parseLong(parts.group(3)),
                Long.parseLong(parts.group(4)),
                Integer.parseInt(parts.group(5))))
        : Optional.empty();
  }

  /** Whether a cell's key was made for this serial number. */
  boolean fits(String cell, String serial) {
    return cell.strip().equals(text(serial));
  }
}
