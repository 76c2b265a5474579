package org.equiphase.measurement;

import java.time.Instant;
import java.util.List;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/**
 * One measurement of an assembly.
 *
 * @param phaseModuloDeg null where the whole number of turns is known; otherwise the phases hold
 *     modulo this many degrees only (360, or 180 in reflection)
 * @param turnsConfidence 1 best, 0 worst; null where no sweep was taken
 * @param fitResidualDeg root mean square of the sweep's phase about a pure delay
 * @param worstResidualHz where it is farthest from one, and worstResidualDeg by how much
 * @param standardUncertaintyDeg largest u of its phases, drift left out, degrees
 */
public record Reading(
    long id,
    long assemblyId,
    long benchId,
    Method method,
    Source source,
    double temperatureC,
    Instant takenAt,
    Instant recordedAt,
    String recordedBy,
    @Nullable Double phaseModuloDeg,
    @Nullable Double turnsConfidence,
    @Nullable Double delayNs,
    @Nullable Double fitResidualDeg,
    @Nullable Double worstResidualHz,
    @Nullable Double worstResidualDeg,
    double standardUncertaintyDeg,
    List<Spot> spots,
    @Nullable Voided voided) {

  public enum Source {
    TYPED,
    FILE
  }

  /**
   * The reading at one frequency of the specification.
   *
   * @param measuredPhaseDeg wrapped, as the instrument shows it
   * @param planeCorrectionDeg what end standard and adapters added, one-way; taken off
   * @param temperatureCorrectionDeg what brings it to the reference temperature; added
   * @param phaseDeg one-way insertion phase of the assembly at the reference temperature
   */
  public record Spot(
      double frequencyHz,
      double measuredPhaseDeg,
      double planeCorrectionDeg,
      double temperatureCorrectionDeg,
      double phaseDeg,
      SpotUncertainty uncertainty,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {}

  /** Who took the reading out of use, and why. */
  public record Voided(Instant at, String by, String reason) {}

  public Reading {
    spots = List.copyOf(spots);
  }

  /** Whether its phases are known as far as an order counts their turns. */
  public boolean tells(Turns turns) {
    return phaseModuloDeg == null || (turns == Turns.MODULO_360 && phaseModuloDeg >= 360);
  }

  Reading withSpots(List<Spot> spots) {
    return new Reading(
        id,
        assemblyId,
        benchId,
        method,
        source,
        temperatureC,
        takenAt,
        recordedAt,
        recordedBy,
        phaseModuloDeg,
        turnsConfidence,
        delayNs,
        fitResidualDeg,
        worstResidualHz,
        worstResidualDeg,
        standardUncertaintyDeg,
        spots,
        voided);
  }
}
