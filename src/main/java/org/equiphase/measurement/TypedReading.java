package org.equiphase.measurement;

import java.time.Instant;
import java.util.List;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;

/**
 * A reading as typed at the bench.
 *
 * @param method null takes the order's
 * @param takenAt null takes now
 */
public record TypedReading(
    String serial,
    long benchId,
    @Nullable Method method,
    double temperatureC,
    @Nullable Instant takenAt,
    List<TypedSpot> spots) {

  /**
   * The phase that the instrument shows at one frequency: of S21 in transmission, of S11 in
   * reflection.
   */
  public record TypedSpot(
      double frequencyHz,
      double phaseDeg,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {}

  public TypedReading {
    spots = List.copyOf(spots);
  }
}
