package org.equiphase.measurement;

import java.time.Instant;

/** A reading of the bench's reference cable, to see drift. */
public record ReferenceCheck(
    long id,
    long benchId,
    String cableSerial,
    double frequencyHz,
    double phaseDeg,
    double temperatureC,
    Instant takenAt,
    String recordedBy) {}
