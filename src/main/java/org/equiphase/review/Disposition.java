package org.equiphase.review;

import com.fasterxml.jackson.annotation.JsonRawValue;
import java.time.Instant;
import java.util.List;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * A decision of QA about one assembly. It never changes; a later one supersedes it.
 *
 * @param setId where the assembly stood; null in the pool
 * @param readingId the reading it was decided on; null without one
 * @param numbers what the assembly's plan said then, as JSON (see {@link DecisionNumbers})
 * @param signatures the decision's own first
 * @param supersedesId the decision that stood before
 * @param supersededById the one that took its place; null while it stands
 * @param sha256 over everything that was decided
 */
public record Disposition(
    long id,
    Kind kind,
    String serial,
    long assemblyId,
    @Nullable Long setId,
    String orderNumber,
    @Nullable Long readingId,
    ReasonCode reasonCode,
    String text,
    Terms terms,
    @JsonRawValue String numbers,
    boolean needsSecond,
    List<Signature> signatures,
    State state,
    @Nullable Long supersedesId,
    @Nullable Long supersededById,
    String sha256) {

  /** What is to happen. */
  public enum Kind {
    /** Earlier readings do not count any more. */
    REMEASURE,
    /** Cuts may take more than the order allows. */
    TRIM_AGAIN,
    /** A line stretcher is fitted to this assembly alone. */
    FIT_STRETCHER,
    /** It changes places with another assembly. */
    SWAP,
    /** The set gets another target. */
    RECENTRE,
    /** Used as it is. */
    CONCESSION,
    /** Another assembly takes its position. */
    REPLACE,
    /** Given up. */
    SCRAP;

    public Sentence words() {
      return Sentence.of("disposition.kind." + name());
    }

    /** Whether it is about a member of a set, and not of the pool. */
    boolean needsSet() {
      return this == SWAP || this == RECENTRE || this == CONCESSION || this == REPLACE;
    }
  }

  /** Where a decision stands. */
  public enum State {
    /** Waits for its second signature; nothing has happened yet. */
    PENDING,
    IN_FORCE,
    /** The second person did not agree. */
    DECLINED,
    SUPERSEDED;

    public Sentence words() {
      return Sentence.of("disposition.state." + name());
    }
  }

  /**
   * What the decision grants or names; null where its kind has no use for it.
   *
   * @param extraTrimMm length that may be cut beyond the order's allowance, in all
   * @param tooShortLimit probability of ending too short that cuts may take, 0…1
   * @param stretcherStartMm reading at which the stretcher is fitted
   * @param otherSerial assembly to change places with
   * @param newSerial assembly that takes the position
   */
  public record Terms(
      @Nullable Double extraTrimMm,
      @Nullable Double tooShortLimit,
      @Nullable Long lineStretcherId,
      @Nullable Double stretcherStartMm,
      @Nullable String otherSerial,
      @Nullable String newSerial) {}

  /** Who signed what. */
  public record Signature(
      String person, String displayName, Instant at, Meaning meaning, String text) {

    public enum Meaning {
      DECIDED,
      AGREED,
      DECLINED
    }
  }

  public Disposition {
    signatures = List.copyOf(signatures);
  }

  /** The numbers as they were. */
  public DecisionNumbers observed() {
    return DecisionNumbers.read(numbers);
  }

  public Signature decided() {
    return signatures.get(0);
  }

  /** Whether a later decision would supersede it. */
  boolean stands() {
    return state != State.DECLINED && state != State.SUPERSEDED;
  }

  Disposition standing(State state, @Nullable Long supersededById) {
    return new Disposition(
        id,
        kind,
        serial,
        assemblyId,
        setId,
        orderNumber,
        readingId,
        reasonCode,
        text,
        terms,
        numbers,
        needsSecond,
        signatures,
        state,
        supersedesId,
        supersededById,
        sha256);
  }
}
