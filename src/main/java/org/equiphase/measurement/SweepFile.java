package org.equiphase.measurement;

import java.time.Instant;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * An uploaded Touchstone or CSV file. It is kept whatever becomes of it.
 *
 * @param takenAt when it was measured, as its sender says; null where it didn't
 * @param serial the assembly that it or its name points to, as shown for confirmation; null where
 *     none
 * @param problem why it can't be recorded as it is; empty where nothing is wrong
 */
public record SweepFile(
    long id,
    int version,
    String name,
    String sha256,
    Instant uploadedAt,
    String uploadedBy,
    @Nullable Instant takenAt,
    State state,
    @Nullable String serial,
    String problem,
    @Nullable Long readingId) {

  /** The problem in words; what a person wrote, or what a file's reader says, stays as it is. */
  public Sentence problemInWords() {
    return Sentence.recalled(
        problem,
        "files.sameContent",
        "files.noAssembly",
        "files.noSuchSerial",
        "files.measuredBefore",
        "files.noTemperatureThen");
  }

  public enum State {
    /** Names a known assembly and reads well; waits for confirmation. */
    READY,
    /** Names no known assembly, or does not read; waits for a person. */
    UNMATCHED,
    RECORDED,
    DISCARDED
  }
}
