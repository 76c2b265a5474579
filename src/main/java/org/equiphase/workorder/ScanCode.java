package org.equiphase.workorder;

import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.web.ConflictException;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What a barcode of the shop says: a serial number, alone on the cable itself; with the revision of
 * its order on a sheet; and with the number of a step beside that step.
 *
 * @param revision null where the code carries none
 * @param stepNumber null where the code names no step; never without a revision
 */
public record ScanCode(String serial, @Nullable String revision, @Nullable Long stepNumber) {

  /** Serials can't contain a slash. */
  private static final Pattern CODE =
      Pattern.compile("([^/\\s]+)(?:/([A-Za-z]{1,10})(?:/(\\d{1,9}))?)?");

  /** The code of an assembly's sheet. */
  public static ScanCode ofSheet(String serial, String revision) {
    return new ScanCode(serial, revision, null);
  }

  /** The code of a step on that sheet. */
  public ScanCode ofStep(long number) {
    return new ScanCode(serial, revision, number);
  }

  /**
   * Reads a code as it was scanned or typed.
   *
   * @param field what to blame in the refusal of something else
   */
  public static ScanCode read(String field, String text) {
    Matcher parts = CODE.matcher(text.strip());
    if (!parts.matches()) {
      throw InvalidInputException.of(field, Sentence.of("scan.unreadable", text.strip()));
    }
    return new ScanCode(
        parts.group(1),
        parts.group(2),
        parts.group(3) == null ? null : Long.valueOf(parts.group(3)));
  }

  /** Refuses a sheet of another revision than the order's present one. */
  public void refuseOld(WorkOrder order) {
    if (revision != null && !revision.equals(order.revision())) {
      throw new ConflictException(
          Sentence.of("scan.otherRevision", serial, revision, order.number(), order.revision()));
    }
  }

  /** The text of the barcode. */
  @Override
  public String toString() {
    StringBuilder text = new StringBuilder(serial);
    if (revision != null) {
      text.append('/').append(revision);
    }
    if (stepNumber != null) {
      text.append('/').append(stepNumber);
    }
    return text.toString();
  }
}
