package org.equiphase.catalog;

/**
 * An adapter between the calibrated plane and the assembly; its delay and loss are taken off.
 *
 * @param lossDbAt1Ghz one-way loss at 1 GHz, growing with the square root of frequency
 */
public record Adapter(
    long id, int version, String name, double delayPs, double lossDbAt1Ghz, String note)
    implements CatalogEntry {}
