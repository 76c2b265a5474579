package org.equiphase.rf;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * An adjustable air line. A straight one adds the length of its slide, a folded one twice that; the
 * electrical length is n(air) times as much. Lengths are readings of the stretcher's own scale.
 *
 * <p>Settings are marks of the scale: whole multiples of the resolution, counted from the scale's
 * zero and not from the stop at {@code minMm}, which may lie between two marks.
 *
 * @param geometry straight or folded
 * @param airIndex refractive index of the air, 1 (vacuum) to 1.01
 * @param minMm lowest reading, mm
 * @param maxMm highest reading, mm
 * @param resolutionMm step to which a setting can be made, mm, above 0
 * @param lockMinMm lowest reading at which the lock holds, mm
 * @param lockMaxMm highest reading at which the lock holds, mm
 * @param calibration measured electrical lengths, which replace geometry and index; settings stay
 *     within the table
 */
public record LineStretcher(
    Geometry geometry,
    double airIndex,
    double minMm,
    double maxMm,
    double resolutionMm,
    double lockMinMm,
    double lockMaxMm,
    @Nullable StretcherCalibration calibration) {

  /** Refractive index of air, common value at sea level (ITU-R P.453, N about 270 to 325). */
  public static final double USUAL_AIR_INDEX = 1.00027;

  private static final double HIGHEST_AIR_INDEX = 1.01;

  // Far below any scale's marks, far above rounding errors of lengths in mm.
  private static final double NEGLIGIBLE_MM = 1e-9;

  /** Shape of the air line. */
  public enum Geometry {
    /** Telescoping: a slide of s adds s of air line. */
    STRAIGHT(1),
    /** U-shaped: both legs slide, so a slide of s adds 2·s of air line. */
    FOLDED(2);

    private final int legs;

    Geometry(int legs) {
      this.legs = legs;
    }

    /** Air line added per length of slide. */
    public int legs() {
      return legs;
    }
  }

  /**
   * @throws InvalidQuantityException for a value out of range, or where range, lock range and table
   *     leave no setting
   */
  public LineStretcher {
    Require.within("airIndex", airIndex, 1, HIGHEST_AIR_INDEX);
    Require.finite("minMm", minMm);
    Require.finite("maxMm", maxMm);
    Require.positive("resolutionMm", resolutionMm);
    ascending("minMm", minMm, "maxMm", maxMm);
    Require.within("lockMinMm", lockMinMm, minMm, maxMm);
    Require.within("lockMaxMm", lockMaxMm, minMm, maxMm);
    ascending("lockMinMm", lockMinMm, "lockMaxMm", lockMaxMm);
    if (calibration != null
        && (calibration.firstReadingMm() > lockMaxMm || calibration.lastReadingMm() < lockMinMm)) {
      throw new InvalidQuantityException(
          "calibration",
          "calibration covers readings from "
              + calibration.firstReadingMm()
              + " to "
              + calibration.lastReadingMm()
              + " mm, none of which the stretcher can be locked at");
    }
  }

  /** A stretcher that locks over its whole range and follows its geometry. */
  public static LineStretcher of(
      Geometry geometry, double airIndex, double minMm, double maxMm, double resolutionMm) {
    return new LineStretcher(geometry, airIndex, minMm, maxMm, resolutionMm, minMm, maxMm, null);
  }

  public LineStretcher withLockRange(double newLockMinMm, double newLockMaxMm) {
    return new LineStretcher(
        geometry, airIndex, minMm, maxMm, resolutionMm, newLockMinMm, newLockMaxMm, calibration);
  }

  public LineStretcher withCalibration(StretcherCalibration table) {
    return new LineStretcher(
        geometry, airIndex, minMm, maxMm, resolutionMm, lockMinMm, lockMaxMm, table);
  }

  /** Lowest reading that may be set: within range, lock range and table, mm. */
  public double lowestSettingMm() {
    return calibration == null ? lockMinMm : Math.max(lockMinMm, calibration.firstReadingMm());
  }

  /** Highest reading that may be set: within range, lock range and table, mm. */
  public double highestSettingMm() {
    return calibration == null ? lockMaxMm : Math.min(lockMaxMm, calibration.lastReadingMm());
  }

  /**
   * Marks of the scale within range and table, spread evenly over it with both its ends, mm. Where
   * the lock holds doesn't matter. Where no mark lies in the range, its two ends.
   *
   * @param atMost how many, 2 to 100 000
   */
  public List<Double> marksMm(int atMost) {
    Require.count("atMost", atMost, 2, 100_000);
    double lowMm = lowestReadingMm();
    double highMm = highestReadingMm();
    double first = firstMark(lowMm);
    double last = lastMark(highMm);
    if (first > last) {
      return List.of(lowMm, highMm);
    }
    int steps = (int) Math.min(last - first, atMost - 1.0);
    List<Double> marks = new ArrayList<>();
    for (int i = 0; i <= steps; i++) {
      marks.add(markMm(steps == 0 ? first : first + Math.rint((last - first) * i / steps)));
    }
    return List.copyOf(marks);
  }

  /** Readings between which the electrical length runs straight, ascending, mm. */
  public List<Double> cornersMm() {
    double lowMm = lowestReadingMm();
    double highMm = highestReadingMm();
    List<Double> corners = new ArrayList<>();
    corners.add(lowMm);
    if (calibration != null) {
      for (double readingMm : calibration.readingsMm()) {
        if (readingMm > lowMm && readingMm < highMm) {
          corners.add(readingMm);
        }
      }
    }
    corners.add(highMm);
    return List.copyOf(corners);
  }

  private double lowestReadingMm() {
    return calibration == null ? minMm : Math.max(minMm, calibration.firstReadingMm());
  }

  private double highestReadingMm() {
    return calibration == null ? maxMm : Math.min(maxMm, calibration.lastReadingMm());
  }

  private double firstMark(double lowMm) {
    return Math.ceil((lowMm - NEGLIGIBLE_MM) / resolutionMm);
  }

  private double lastMark(double highMm) {
    return Math.floor((highMm + NEGLIGIBLE_MM) / resolutionMm);
  }

  /**
   * Electrical length added by going from one reading to another, one way, mm.
   *
   * @throws InvalidQuantityException for a reading outside the range or the calibration table
   */
  public double addedElectricalLengthMm(double fromMm, double toMm) {
    requireReading("fromMm", fromMm);
    requireReading("toMm", toMm);
    return electricalLengthMm(toMm) - electricalLengthMm(fromMm);
  }

  /**
   * The setting that takes a phase error away. A positive error (too short) adds line: e·c/(360·f)
   * one way, half of that where the error is one of reflection.
   *
   * <p>If the exact setting lies out of range, settings whole wavelengths away are tried, the
   * fewest first. Whole wavelengths count also in reflection: half a wavelength would bring back
   * the reflection phase but reverse the insertion phase. The setting is then rounded to the
   * resolution within the range. One that lies out of range by at most half the resolution is
   * reached as well as any other and counts as reachable. If nothing is reachable, the setting is
   * that end of the range which lies nearest to what the error asks for, with no turns.
   *
   * @param frequency frequency of the error
   * @param phaseErrorDeg phase minus target, degrees, finite
   * @param passes 1 in transmission, 2 if the error is one of reflection
   * @param currentMm present reading, mm, within the range and the table
   * @throws InvalidQuantityException for a value out of range
   */
  public StretcherSetting solve(
      Frequency frequency, double phaseErrorDeg, int passes, double currentMm) {
    Require.finite("phaseErrorDeg", phaseErrorDeg);
    Require.passes(passes);
    requireReading("currentMm", currentMm);
    double wavelengthMm = frequency.wavelength().inMillimetres();
    double neededMm = phaseErrorDeg / (360.0 * passes) * wavelengthMm;
    double targetMm =
        Require.finiteResult(
            "phaseErrorDeg", phaseErrorDeg, electricalLengthMm(currentMm) + neededMm);

    double turns = turnsIntoRange(targetMm, wavelengthMm);
    boolean reachable = reaches(targetMm + turns * wavelengthMm);
    if (!reachable) {
      turns = 0;
    }
    double aimMm = targetMm + turns * wavelengthMm;
    double settingMm = roundedSettingMm(aimMm);
    double addedMm = electricalLengthMm(settingMm) - electricalLengthMm(currentMm);
    double leftMm = aimMm - electricalLengthMm(settingMm);
    return new StretcherSetting(
        settingMm,
        settingMm - currentMm,
        addedMm,
        360.0 * passes * leftMm / wavelengthMm,
        reachable,
        (int) turns);
  }

  /** Fewest whole wavelengths, of either sign, that may bring a length to the usable range. */
  private double turnsIntoRange(double targetMm, double wavelengthMm) {
    if (reaches(targetMm)) {
      return 0;
    }
    double oneEndMm = electricalLengthMm(lowestSettingMm());
    double otherEndMm = electricalLengthMm(highestSettingMm());
    double shortestMm = Math.min(oneEndMm, otherEndMm);
    double longestMm = Math.max(oneEndMm, otherEndMm);
    double turns =
        targetMm < shortestMm
            ? Math.ceil((shortestMm - targetMm) / wavelengthMm)
            : -Math.ceil((targetMm - longestMm) / wavelengthMm);
    if (Math.abs(turns) > Integer.MAX_VALUE) {
      return 0;
    }
    double oneFewer = turns - Math.signum(turns);
    return reaches(targetMm + oneFewer * wavelengthMm) ? oneFewer : turns;
  }

  private boolean reaches(double lengthMm) {
    double readingMm = readingMm(lengthMm);
    double slackMm = resolutionMm / 2 + NEGLIGIBLE_MM;
    return readingMm >= lowestSettingMm() - slackMm && readingMm <= highestSettingMm() + slackMm;
  }

  /** The mark in range whose length is nearest; an end of the range where it has no marks. */
  private double roundedSettingMm(double lengthMm) {
    double lowMm = lowestSettingMm();
    double highMm = highestSettingMm();
    double firstMark = firstMark(lowMm);
    double lastMark = lastMark(highMm);
    double readingMm = Math.min(Math.max(readingMm(lengthMm), lowMm), highMm);
    if (firstMark > lastMark) {
      return readingMm - lowMm < highMm - readingMm ? lowMm : highMm;
    }
    double below = Math.min(Math.max(Math.floor(readingMm / resolutionMm), firstMark), lastMark);
    double above = Math.min(below + 1, lastMark);
    double belowMm = usableMm(markMm(below));
    double aboveMm = usableMm(markMm(above));
    double missBelow = Math.abs(electricalLengthMm(belowMm) - lengthMm);
    double missAbove = Math.abs(electricalLengthMm(aboveMm) - lengthMm);
    return missBelow < missAbove ? belowMm : aboveMm;
  }

  /** Reading of a mark, free of binary rounding and within the scale. */
  private double markMm(double mark) {
    double readingMm =
        new BigDecimal(mark).multiply(BigDecimal.valueOf(resolutionMm)).doubleValue();
    return Math.min(Math.max(readingMm, lowestReadingMm()), highestReadingMm());
  }

  private double usableMm(double readingMm) {
    return Math.min(Math.max(readingMm, lowestSettingMm()), highestSettingMm());
  }

  /** Electrical length at a reading within range and table, mm: measured, or by the geometry. */
  public double electricalLengthMm(double readingMm) {
    return calibration == null
        ? geometry.legs() * airIndex * readingMm
        : calibration.electricalLengthMmAt(readingMm);
  }

  private double readingMm(double electricalLengthMm) {
    return calibration == null
        ? electricalLengthMm / (geometry.legs() * airIndex)
        : calibration.readingMmAt(electricalLengthMm);
  }

  private void requireReading(String field, double readingMm) {
    Require.within(field, readingMm, minMm, maxMm);
    if (calibration != null) {
      Require.within(field, readingMm, calibration.firstReadingMm(), calibration.lastReadingMm());
    }
  }

  private static void ascending(String lowField, double low, String highField, double high) {
    if (low > high) {
      throw new InvalidQuantityException(
          highField, highField + " must be at least " + lowField + " " + low + ", not " + high);
    }
  }
}
