package org.equiphase.measurement;

import java.time.Instant;
import org.equiphase.rf.Method;

/**
 * A reading of the bench's reference cable, to see drift.
 *
 * @param phaseDeg as the instrument shows it by the method, in reflection a two-way one
 */
public record ReferenceCheck(
    long id,
    long benchId,
    String cableSerial,
    Method method,
    double frequencyHz,
    double phaseDeg,
    double temperatureC,
    Instant takenAt,
    String recordedBy) {}
