package org.equiphase.adjustment;

import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;

/**
 * How a phase error comes about at one frequency, term by term, so that a person can do the sum
 * again: shown − plane + turns + temperature − drift = phase; phase − nominal = error.
 *
 * @param shownDeg as the instrument showed it, made one-way and the ideal end taken off
 * @param planeCorrectionDeg what end standard and adapters added, one-way; taken off
 * @param turnsDeg whole (in reflection also half) turns added
 * @param temperatureDeg what brings it to the reference temperature; added
 * @param driftDeg what the bench has drifted by; taken off
 * @param phaseDeg insertion phase of the assembly
 * @param nominalDeg insertion phase that its position asks for before the set's centre is added
 * @param errorDeg phase less nominal, without the turns that do not count
 */
public record PhaseSum(
    double frequencyHz,
    double shownDeg,
    double planeCorrectionDeg,
    double turnsDeg,
    double temperatureDeg,
    double driftDeg,
    double phaseDeg,
    double nominalDeg,
    double errorDeg) {

  static PhaseSum of(
      Reading reading, int frequency, ReadingDrift drift, double nominalDeg, Adjuster adjuster) {
    Reading.Spot spot = reading.spots().get(frequency);
    double shownDeg =
        (spot.measuredPhaseDeg() - reading.method().idealEndPhaseDeg()) / reading.method().passes();
    double turnsDeg =
        spot.phaseDeg() - spot.temperatureCorrectionDeg() + spot.planeCorrectionDeg() - shownDeg;
    double driftDeg = drift.driftDeg(spot.frequencyHz());
    double phaseDeg = spot.phaseDeg() - driftDeg;
    return new PhaseSum(
        spot.frequencyHz(),
        shownDeg,
        spot.planeCorrectionDeg(),
        turnsDeg,
        spot.temperatureCorrectionDeg(),
        driftDeg,
        phaseDeg,
        nominalDeg,
        adjuster.wrap(phaseDeg - nominalDeg));
  }
}
