package org.equiphase.workorder;

import org.jspecify.annotations.Nullable;

/**
 * One frequency of a specification.
 *
 * @param toleranceDeg half-width of the phase window, degrees of insertion phase
 * @param insertionLossLimitDb largest insertion loss accepted, dB
 * @param insertionLossSpreadDb largest difference in insertion loss between any two members, dB
 * @param nominalPhaseDeg target insertion phase with basis NOMINAL; null takes it from the delay
 */
public record FrequencySpecification(
    double frequencyHz,
    double toleranceDeg,
    @Nullable Double insertionLossLimitDb,
    @Nullable Double insertionLossSpreadDb,
    @Nullable Double nominalPhaseDeg) {}
