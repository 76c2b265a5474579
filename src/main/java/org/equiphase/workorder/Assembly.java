package org.equiphase.workorder;

import org.jspecify.annotations.Nullable;

/**
 * One cable with its two connectors.
 *
 * @param cableLot lot of the cable it was made from; empty where not told
 * @param setId and positionId: null in the pool and after replacement
 * @param heldBy the person who put it on hold; null where it is not held, or by its readings alone
 * @param trimmedMm length cut off so far
 * @param stretcherSettingMm reading of its line stretcher now; null where none is fitted
 */
public record Assembly(
    long id,
    int version,
    String serial,
    long workOrderId,
    String cableLot,
    @Nullable Long setId,
    @Nullable Long positionId,
    AssemblyState state,
    String stateReason,
    @Nullable String heldBy,
    double trimmedMm,
    @Nullable Double stretcherSettingMm) {}
