package org.equiphase.measurement;

/** An assembly has a new reading, or one of its readings was voided. */
public record ReadingChanged(long assemblyId) {}
