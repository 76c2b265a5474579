package org.equiphase.rf;

import java.util.List;
import java.util.OptionalInt;

/**
 * What a sweep says about an assembly, adapters and end standard taken off. Phases are one-way.
 *
 * @param points number of points
 * @param startHz lowest frequency, Hz
 * @param stopHz highest frequency, Hz
 * @param delay delay, from the slope of the least-squares straight line through the phase
 * @param electricalLength c·τ
 * @param physicalLength v·c·τ
 * @param turns whole turns of the total phase at the first point: (wrapped − total)/360; empty
 *     where they are unknown
 * @param turnsConfidence 1 − 2·(distance of the line's value at 0 Hz from a whole number of turns),
 *     1 best, 0 worst; in reflection, turns of Γ with the end phase taken off
 * @param turnsSource where the turns come from
 * @param fitResidualDeg root mean square of the one-way phase about the straight line, degrees
 *     (divisor: number of points)
 * @param worstResidualHz frequency of the point farthest from the straight line, Hz: the one to
 *     blame where the phase is no pure delay
 * @param worstResidualDeg its one-way phase less the line, degrees; negative where it lags
 * @param spots values at the frequencies asked for, in their order
 * @param trace values at all points
 */
public record SweepAnalysis(
    int points,
    double startHz,
    double stopHz,
    Delay delay,
    Length electricalLength,
    Length physicalLength,
    OptionalInt turns,
    double turnsConfidence,
    TurnsSource turnsSource,
    double fitResidualDeg,
    double worstResidualHz,
    double worstResidualDeg,
    List<SpotReading> spots,
    SweepTrace trace) {

  /** Where the number of turns comes from. */
  public enum TurnsSource {
    /** The straight line's value at 0 Hz. */
    INTERCEPT,
    /** The expected length, as the value at 0 Hz was ambiguous. */
    EXPECTED_LENGTH,
    /** The turns are unknown. */
    NONE
  }

  public SweepAnalysis {
    spots = List.copyOf(spots);
  }
}
