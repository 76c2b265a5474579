package org.equiphase.measurement;

import org.jspecify.annotations.Nullable;

/**
 * What became of a file that a bench sent.
 *
 * @param fileId the file as it is kept
 * @param readingId null where it waits
 * @param problem why it waits; empty where it doesn't
 */
record FileOutcome(
    Kind outcome, long fileId, @Nullable Long readingId, @Nullable String serial, String problem) {

  enum Kind {
    RECORDED,
    /** The same content stands behind a reading already, and no second one was made. */
    RECORDED_BEFORE,
    /** Kept on the Files page until a person says what it is. */
    WAITING
  }

  static FileOutcome of(Kind kind, SweepFile file) {
    return new FileOutcome(kind, file.id(), file.readingId(), file.serial(), file.problem());
  }
}
