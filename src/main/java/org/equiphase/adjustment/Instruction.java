package org.equiphase.adjustment;

import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.equiphase.measurement.Reading;
import org.jspecify.annotations.Nullable;

/**
 * What to do to one assembly, computed from one reading.
 *
 * @param trimMm length to cut off; 0 where the action is no cut
 * @param cableTypeId and cableLot: what is cut
 * @param chance what the work promises; null where nothing is cut or set
 * @param settingMm stretcher reading to set, and slideMm how far that is from now; null for a cut
 */
public record Instruction(
    long id,
    int version,
    long assemblyId,
    long readingId,
    Action action,
    double trimMm,
    @Nullable Double settingMm,
    @Nullable Double slideMm,
    String reason,
    long cableTypeId,
    String cableLot,
    @Nullable Chance chance,
    State state,
    Instant issuedAt,
    @Nullable Done done,
    List<Prediction> predictions) {

  public enum Action {
    TRIM,
    STRETCH,
    /** Neither a cut nor a setting brings it in: keep it for QA. */
    HOLD
  }

  public enum State {
    ISSUED,
    DONE,
    /** A newer reading or plan took its place. */
    SUPERSEDED
  }

  /**
   * The error at one frequency now and as expected afterwards.
   *
   * @param targetPhaseDeg insertion phase that the assembly should have
   * @param standardUncertaintyDeg of the predicted error; null on instructions from before it was
   *     computed
   */
  public record Prediction(
      double frequencyHz,
      double targetPhaseDeg,
      double errorDeg,
      double predictedErrorDeg,
      @Nullable Double standardUncertaintyDeg) {}

  /**
   * What a cut or a setting promises.
   *
   * @param probabilityIn that it ends in tolerance, 0…1
   * @param probabilityTooShort that it ends too short; 0 for a setting
   * @param staged whether the cut stops short on purpose, to be measured and finished later
   * @param expectedCuts mean number of cuts from here on, this one included; 0 for a setting
   */
  public record Chance(
      double probabilityIn, double probabilityTooShort, boolean staged, double expectedCuts) {}

  /** What was really cut or set. */
  public record Done(
      Instant at, String by, @Nullable Double trimMm, @Nullable Double settingMm, String note) {}

  public Instruction {
    predictions = List.copyOf(predictions);
  }

  /**
   * Whether it was signed off after a reading was taken. A sweep taken before a cut but recorded
   * after it must not ask for that cut again.
   */
  public boolean doneAfter(Reading reading) {
    return done != null && (readingId >= reading.id() || done.at().isAfter(reading.takenAt()));
  }

  /** The first valid one of the readings that shows what was done; empty while there is none. */
  public Optional<Reading> firstAfter(Collection<Reading> readings) {
    return readings.stream()
        .filter(r -> done != null && r.voided() == null && !doneAfter(r))
        .min(Comparator.comparing(Reading::id));
  }

  Instruction withPredictions(List<Prediction> predictions) {
    return new Instruction(
        id,
        version,
        assemblyId,
        readingId,
        action,
        trimMm,
        settingMm,
        slideMm,
        reason,
        cableTypeId,
        cableLot,
        chance,
        state,
        issuedAt,
        done,
        predictions);
  }

  /** Whether another instruction asks for the same work on the same reading. */
  boolean sameWork(Instruction other) {
    return readingId == other.readingId
        && action == other.action
        && Math.abs(trimMm - other.trimMm) < 1e-9
        && Objects.equals(settingMm, other.settingMm)
        && reason.equals(other.reason)
        && samePredictions(other);
  }

  private boolean samePredictions(Instruction other) {
    if (predictions.size() != other.predictions.size()) {
      return false;
    }
    for (int k = 0; k < predictions.size(); k++) {
      double apart =
          predictions.get(k).targetPhaseDeg() - other.predictions.get(k).targetPhaseDeg();
      if (Math.abs(apart) > 1e-6) {
        return false;
      }
    }
    return true;
  }
}
