package org.equiphase.rf.touchstone;

import org.equiphase.rf.Complex;

/**
 * Noise parameters of a two-port at one frequency.
 *
 * @param frequencyHz frequency, Hz
 * @param minimumNoiseFigureDb minimum noise figure, dB
 * @param optimumSource source reflection coefficient at which it is reached
 * @param noiseResistanceOhm effective noise resistance, ohm
 */
public record NoisePoint(
    double frequencyHz,
    double minimumNoiseFigureDb,
    Complex optimumSource,
    double noiseResistanceOhm) {}
