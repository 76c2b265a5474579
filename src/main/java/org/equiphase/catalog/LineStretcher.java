package org.equiphase.catalog;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An adjustable air line.
 *
 * @param minMm smallest reading of its scale
 * @param maxMm largest reading of its scale
 * @param lockMinMm smallest reading at which its lock holds
 * @param lockMaxMm largest reading at which its lock holds
 * @param calibration measured electrical length against reading; empty where the geometry is used
 */
public record LineStretcher(
    long id,
    int version,
    String name,
    Geometry geometry,
    double airIndex,
    double minMm,
    double maxMm,
    double lockMinMm,
    double lockMaxMm,
    double resolutionMm,
    List<CalibrationPoint> calibration,
    @Nullable LocalDate calibrationDue,
    String note)
    implements CatalogEntry {

  public enum Geometry {
    STRAIGHT,
    FOLDED
  }

  /** One point of the calibration table. */
  public record CalibrationPoint(double readingMm, double electricalLengthMm) {}

  public LineStretcher {
    calibration = List.copyOf(calibration);
  }
}
