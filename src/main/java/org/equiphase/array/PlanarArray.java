package org.equiphase.array;

import java.util.Arrays;
import org.equiphase.rf.InvalidQuantityException;

/**
 * Isotropic elements in a plane with their amplitudes. A direction has θ from broadside and φ from
 * the x axis; u = sin θ·cos φ, v = sin θ·sin φ.
 */
public final class PlanarArray {
  private static final double MOST_TERMS = 5e8;
  private static final double MOST_POINTS = 4e6;

  // Of the largest extent; a narrower array has no beam across itself.
  private static final double LINE = 1e-6;

  private final PlanarLayout layout;
  private final double[] amplitudes;

  private PlanarArray(PlanarLayout layout, double[] amplitudes) {
    this.layout = layout;
    this.amplitudes = amplitudes;
  }

  /**
   * Elements on a rectangular grid: element (row, column) stands at x = column·columnSpacing, y =
   * row·rowSpacing, and has index row·columns + column.
   *
   * @param rows 2 or more
   * @param columns 2 or more
   * @param rowSpacingWavelengths distance of neighbouring rows, wavelengths, above 0
   * @param columnSpacingWavelengths distance of neighbouring columns, wavelengths, above 0
   * @param taper amplitudes, rows·columns of them, 0 or more, not all 0
   */
  public static PlanarArray ofGrid(
      int rows,
      int columns,
      double rowSpacingWavelengths,
      double columnSpacingWavelengths,
      double[] taper) {
    requireSeveral("rows", rows);
    requireSeveral("columns", columns);
    Checks.elements("taper", Math.multiplyExact(rows, columns));
    Checks.finite("taper", taper, rows * columns);
    Checks.taper("taper", taper);
    Checks.positive("rowSpacingWavelengths", rowSpacingWavelengths);
    Checks.positive("columnSpacingWavelengths", columnSpacingWavelengths);
    double[] x = new double[taper.length];
    double[] y = new double[taper.length];
    for (int n = 0; n < taper.length; n++) {
      x[n] = (n % columns) * columnSpacingWavelengths;
      y[n] = (n / columns) * rowSpacingWavelengths;
    }
    return of("columnSpacingWavelengths", "rowSpacingWavelengths", x, y, taper);
  }

  /**
   * Elements at given places that don't lie on one line.
   *
   * @param xWavelengths places along x, wavelengths
   * @param yWavelengths places along y, wavelengths
   * @param taper amplitudes, one per element, 0 or more, not all 0
   */
  public static PlanarArray ofPositions(
      double[] xWavelengths, double[] yWavelengths, double[] taper) {
    Checks.taper("taper", taper);
    Checks.finite("xWavelengths", xWavelengths, taper.length);
    Checks.finite("yWavelengths", yWavelengths, taper.length);
    double[] x = fromLeast(xWavelengths);
    double[] y = fromLeast(yWavelengths);
    requireNoLine(x, y);
    return of("xWavelengths", "yWavelengths", x, y, taper);
  }

  /** The product of a taper per row and one per column, as amplitudes of a grid. */
  public static double[] product(double[] rowTaper, double[] columnTaper) {
    double[] taper = new double[Math.multiplyExact(rowTaper.length, columnTaper.length)];
    for (int n = 0; n < taper.length; n++) {
      taper[n] = rowTaper[n / columnTaper.length] * columnTaper[n % columnTaper.length];
    }
    return taper;
  }

  public int elements() {
    return amplitudes.length;
  }

  double amplitude(int n) {
    return amplitudes[n];
  }

  /** The lobes for phase errors in degrees, steered to u0, v0. */
  PlanarLobes lobes(double u0, double v0, double[] phaseErrorDeg) {
    double[] re = new double[amplitudes.length];
    double[] im = new double[amplitudes.length];
    for (int n = 0; n < re.length; n++) {
      double turns = Math.IEEEremainder(phaseErrorDeg[n], 360) / 360;
      double steering = Math.IEEEremainder(layout.x(n) * u0 + layout.y(n) * v0, 1);
      double radians = 2 * Math.PI * (turns - steering);
      re[n] = amplitudes[n] * Math.cos(radians);
      im[n] = amplitudes[n] * Math.sin(radians);
    }
    return PlanarLobes.of(layout, re, im, u0, v0);
  }

  private static PlanarArray of(
      String xField, String yField, double[] x, double[] y, double[] taper) {
    double pointsU = PlanarLayout.points(extent(x));
    double pointsV = PlanarLayout.points(extent(y));
    double rows = Arrays.stream(y).distinct().count();
    double terms = taper.length * pointsU + rows * pointsU * pointsV;
    if (!(pointsU * pointsV <= MOST_POINTS && terms <= MOST_TERMS)) {
      throw new InvalidQuantityException(
          pointsU > pointsV ? xField : yField,
          "an array of "
              + taper.length
              + " elements over "
              + extent(x)
              + " by "
              + extent(y)
              + " wavelengths is too large to compute; a smaller one or a regular grid will do");
    }
    return new PlanarArray(new PlanarLayout(x, y), taper.clone());
  }

  private static double extent(double[] fromLeast) {
    return Arrays.stream(fromLeast).max().orElse(0);
  }

  private static double[] fromLeast(double[] values) {
    double least = Arrays.stream(values).min().orElse(0);
    return Arrays.stream(values).map(value -> value - least).toArray();
  }

  private static void requireSeveral(String field, int count) {
    if (count < 2 || count > Checks.MOST_ELEMENTS) {
      throw new InvalidQuantityException(
          field,
          field
              + " must lie from 2 to "
              + Checks.MOST_ELEMENTS
              + ", not "
              + count
              + "; a single row is a linear array");
    }
  }

  /** The farthest element from the first gives a line; some other must stand off it. */
  private static void requireNoLine(double[] x, double[] y) {
    double farX = 0;
    double farY = 0;
    for (int n = 1; n < x.length; n++) {
      double dx = x[n] - x[0];
      double dy = y[n] - y[0];
      if (Math.hypot(dx, dy) > Math.hypot(farX, farY)) {
        farX = dx;
        farY = dy;
      }
    }
    double length = Math.hypot(farX, farY);
    for (int n = 1; n < x.length; n++) {
      double off = Math.abs((x[n] - x[0]) * farY - (y[n] - y[0]) * farX) / length;
      if (off > LINE * length) {
        return;
      }
    }
    throw new InvalidQuantityException(
        "yWavelengths", "the elements lie on one line; compute them as a linear array");
  }
}
