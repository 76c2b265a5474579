package org.equiphase.measurement;

import java.time.LocalDate;
import org.equiphase.catalog.Bench;
import org.jspecify.annotations.Nullable;

/**
 * What a reading was taken with.
 *
 * @param endStandardId null in transmission
 * @param instrumentCalibrationDue as it stood when the reading was recorded; null on readings from
 *     before this was kept
 * @param benchCalibrationDue the same of the bench's own calibration
 */
public record ReadingEquipment(
    long readingId,
    long benchId,
    long instrumentId,
    @Nullable Long endStandardId,
    @Nullable LocalDate instrumentCalibrationDue,
    @Nullable LocalDate benchCalibrationDue) {

  static ReadingEquipment of(Reading reading, Bench bench, Reduction reduction) {
    return new ReadingEquipment(
        reading.id(),
        bench.id(),
        bench.instrument().id(),
        reduction.endStandardId(bench),
        bench.instrument().calibrationDue(),
        bench.calibrationDue());
  }
}
