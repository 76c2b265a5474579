package org.equiphase.catalog;

import static org.equiphase.rf.PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;

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

  /**
   * Electrical length in mm added by one millimetre of slide: by the geometry, or the mean of the
   * calibration table (negative where its scale runs backwards).
   */
  public double electricalMmPerMm() {
    if (calibration.isEmpty()) {
      return (geometry == Geometry.FOLDED ? 2 : 1) * airIndex;
    }
    CalibrationPoint first = calibration.get(0);
    CalibrationPoint last = calibration.get(calibration.size() - 1);
    return (last.electricalLengthMm() - first.electricalLengthMm())
        / (last.readingMm() - first.readingMm());
  }

  /** Insertion phase taken away by one millimetre of slide, in degrees. */
  public double phaseDegPerMm(double frequencyHz) {
    return 360e-3 * frequencyHz * electricalMmPerMm() / SPEED_OF_LIGHT_M_PER_S;
  }
}
