package org.equiphase.rf;

/**
 * Calibration table of a line stretcher: its reading against its measured electrical length, linear
 * between the points, without extrapolation.
 */
public final class StretcherCalibration {
  private static final String FIELD = "calibration";

  private final PiecewiseLinear lengthByReading;
  private final PiecewiseLinear readingByLength;

  private StretcherCalibration(PiecewiseLinear lengthByReading) {
    this.lengthByReading = lengthByReading;
    this.readingByLength = lengthByReading.inverse(FIELD);
  }

  /**
   * A table of readings.
   *
   * @param readingMm readings of the scale, mm, strictly ascending, at least two
   * @param electricalLengthMm measured electrical length at each, mm, strictly monotone; only its
   *     differences count
   * @throws InvalidQuantityException for {@code calibration} where the table breaks these rules
   */
  public static StretcherCalibration of(double[] readingMm, double[] electricalLengthMm) {
    PiecewiseLinear table = new PiecewiseLinear(FIELD, readingMm, electricalLengthMm);
    if (table.direction() == 0) {
      throw new InvalidQuantityException(
          FIELD,
          "calibration: the electrical length must rise, or fall, from each row to the next");
    }
    return new StretcherCalibration(table);
  }

  public double firstReadingMm() {
    return lengthByReading.first();
  }

  public double lastReadingMm() {
    return lengthByReading.last();
  }

  public double[] readingsMm() {
    return lengthByReading.xs();
  }

  public double[] electricalLengthsMm() {
    return lengthByReading.ys();
  }

  double electricalLengthMmAt(double readingMm) {
    return lengthByReading.valueAt(readingMm);
  }

  /** Reading for an electrical length; beyond the table, a reading just as far beyond its end. */
  double readingMmAt(double electricalLengthMm) {
    if (readingByLength.covers(electricalLengthMm)) {
      return readingByLength.valueAt(electricalLengthMm);
    }
    boolean longer = electricalLengthMm > readingByLength.last();
    double end = longer ? readingByLength.last() : readingByLength.first();
    double beyond = Math.abs(electricalLengthMm - end);
    double reading = readingByLength.valueAt(end);
    return reading == lastReadingMm() ? reading + beyond : reading - beyond;
  }
}
