package org.equiphase.rf;

import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/**
 * A sweep as one-way values over its points: adapters and end standard taken off, the phase
 * unwrapped. If the turns are known, the phase is the total one; if not, it lacks an unknown number
 * of turns (half turns in reflection).
 */
public final class SweepTrace {
  private static final double ROUNDING = 1e-12;

  // Decimal frequencies come out of unit conversions a little off; far below any step.
  private static final double SAME_FREQUENCY = 1e-9;

  private final double[] frequencyHz;
  private final double[] phaseDeg;
  private final double[] insertionLossDb;
  private final double @Nullable [] s11Magnitude;
  private final double moduloDeg;
  private final boolean turnsKnown;
  private final StraightLine line;

  SweepTrace(
      double[] frequencyHz,
      double[] phaseDeg,
      double[] insertionLossDb,
      double @Nullable [] s11Magnitude,
      double moduloDeg,
      boolean turnsKnown,
      StraightLine line) {
    this.frequencyHz = frequencyHz;
    this.phaseDeg = phaseDeg;
    this.insertionLossDb = insertionLossDb;
    this.s11Magnitude = s11Magnitude;
    this.moduloDeg = moduloDeg;
    this.turnsKnown = turnsKnown;
    this.line = line;
  }

  public boolean turnsKnown() {
    return turnsKnown;
  }

  public double[] frequenciesHz() {
    return frequencyHz.clone();
  }

  /** One-way unwrapped phases, degrees. */
  public double[] phasesDeg() {
    return phaseDeg.clone();
  }

  /** One-way insertion losses, dB. */
  public double[] insertionLossesDb() {
    return insertionLossDb.clone();
  }

  /** One-way phases less the straight line fitted over the sweep, degrees. */
  public double[] residualsDeg() {
    double[] residualDeg = new double[frequencyHz.length];
    for (int i = 0; i < residualDeg.length; i++) {
      residualDeg[i] = phaseDeg[i] - line.at(frequencyHz[i]);
    }
    return residualDeg;
  }

  /**
   * Values at a frequency, linear between points, on the unwrapped phase.
   *
   * @param spotHz frequency, Hz, within the sweep
   * @throws InvalidQuantityException for {@code spotHz} outside the sweep
   */
  public SpotReading at(double spotHz) {
    double inside = inside(spotHz);
    double phase = PiecewiseLinear.interpolate(frequencyHz, phaseDeg, inside);
    return new SpotReading(
        spotHz,
        WrappedPhase.wrap(phase, turnsKnown ? 360 : moduloDeg),
        turnsKnown ? OptionalDouble.of(phase) : OptionalDouble.empty(),
        0.0 + PiecewiseLinear.interpolate(frequencyHz, insertionLossDb, inside),
        vswrAt(inside),
        phase - line.at(inside));
  }

  private OptionalDouble vswrAt(double inside) {
    if (s11Magnitude == null) {
      return OptionalDouble.empty();
    }
    double gamma = PiecewiseLinear.interpolate(frequencyHz, s11Magnitude, inside);
    return gamma >= 1 - ROUNDING
        ? OptionalDouble.empty()
        : OptionalDouble.of(Mismatch.vswrOfGamma(gamma));
  }

  private double inside(double spotHz) {
    double first = frequencyHz[0];
    double last = frequencyHz[frequencyHz.length - 1];
    double slack = SAME_FREQUENCY * last;
    if (!(spotHz >= first - slack && spotHz <= last + slack)) {
      throw new InvalidQuantityException(
          "spotHz",
          "spotHz must lie within the sweep, " + first + " to " + last + " Hz, not at " + spotHz);
    }
    return Math.min(Math.max(spotHz, first), last);
  }
}
