package org.equiphase.review;

import java.time.Instant;
import java.time.LocalDate;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * Something about a member of a set that QA has to look at.
 *
 * @param dueOn when the order is due; null where it has no date
 * @param missing members of the set that are not in tolerance yet
 * @param probabilityIn that the member is in tolerance; null without a usable reading
 * @param worstErrorDeg error that uses most of its limit, and worstLimitDeg that limit, at worstHz;
 *     null without a usable reading
 * @param reason why the plan says so, in English as on all records
 */
public record Finding(
    long id,
    Kind kind,
    long assemblyId,
    String serial,
    long setId,
    String setName,
    String position,
    String orderNumber,
    long cableTypeId,
    String cableLot,
    @Nullable Long benchId,
    @Nullable String measuredBy,
    @Nullable LocalDate dueOn,
    int missing,
    @Nullable Double probabilityIn,
    @Nullable Double worstErrorDeg,
    @Nullable Double worstLimitDeg,
    @Nullable Double worstHz,
    String reason,
    Instant since) {

  /** What is the matter, the worst first. */
  public enum Kind {
    /** A later reference check, or a change of the catalog, throws doubt on a released member. */
    RELEASED_IN_DOUBT,
    AWAITS_SECOND_SIGNATURE,
    SCRAPPED,
    /** Too short: no cut can help. */
    SHORT,
    OUT_OF_TOLERANCE,
    LOSS,
    VSWR,
    TURNS_UNKNOWN,
    /** The bench drifted too far around its reading. */
    DRIFT_HOLD,
    /** Held by a person. */
    HELD,
    BAD_FIT,
    /** Measured while the calibration of bench or instrument was overdue. */
    CALIBRATION_OVERDUE,
    /** In tolerance, but not likely enough to be. */
    AT_RISK;

    /** Whether its set can't be released before something is done or decided. */
    public boolean blocks() {
      return this != BAD_FIT && this != CALIBRATION_OVERDUE && this != AT_RISK;
    }

    public Sentence words() {
      return Sentence.of("queue.kind." + name());
    }
  }

  /** What makes it stand where it stands. */
  public Sentence place() {
    return missing <= 1
        ? Sentence.of("queue.lastMissing")
        : Sentence.of("queue.othersMissing", missing);
  }
}
