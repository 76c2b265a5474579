package org.equiphase.catalog;

import java.time.LocalDate;
import java.util.List;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.StretcherCalibration;
import org.jspecify.annotations.Nullable;

/**
 * An adjustable air line.
 *
 * @param airIndex refractive index of the air in it, 1 for vacuum
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

  /** The line stretcher of the calculations. */
  public org.equiphase.rf.LineStretcher toRf() {
    return new org.equiphase.rf.LineStretcher(
        org.equiphase.rf.LineStretcher.Geometry.valueOf(geometry.name()),
        airIndex,
        minMm,
        maxMm,
        resolutionMm,
        lockMinMm,
        lockMaxMm,
        calibration.isEmpty()
            ? null
            : StretcherCalibration.of(
                calibration.stream().mapToDouble(CalibrationPoint::readingMm).toArray(),
                calibration.stream().mapToDouble(CalibrationPoint::electricalLengthMm).toArray()));
  }

  /**
   * Electrical length in mm added by one millimetre of slide, the mean over the scale; negative
   * where a calibrated scale runs backwards.
   */
  public double electricalMmPerMm() {
    return toRf().addedElectricalLengthMm(minMm, maxMm) / (maxMm - minMm);
  }

  /** Insertion phase that one millimetre of slide turns one way, in degrees. */
  public double phaseDegPerMm(double frequencyHz) {
    return 360 * electricalMmPerMm() / Frequency.ofHertz(frequencyHz).wavelength().inMillimetres();
  }
}
