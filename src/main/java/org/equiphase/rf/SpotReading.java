package org.equiphase.rf;

import java.util.OptionalDouble;

/**
 * What a sweep says at one frequency, one way.
 *
 * @param frequencyHz frequency, Hz
 * @param wrappedPhaseDeg insertion phase in (−180, +180], degrees; where the turns of a reflection
 *     are unknown, it holds modulo 180° only and lies in (−90, +90]
 * @param totalPhaseDeg insertion phase with all its turns, degrees; empty where they are unknown
 * @param insertionLossDb insertion loss, dB, positive; in reflection half the return loss
 * @param vswr VSWR of S11 as measured; empty where S11 is unknown or the VSWR infinite
 * @param residualDeg insertion phase less the straight line fitted over the sweep, degrees: what a
 *     pure delay doesn't explain
 */
public record SpotReading(
    double frequencyHz,
    double wrappedPhaseDeg,
    OptionalDouble totalPhaseDeg,
    double insertionLossDb,
    OptionalDouble vswr,
    double residualDeg) {}
