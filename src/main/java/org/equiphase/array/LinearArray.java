package org.equiphase.array;

import org.equiphase.rf.InvalidQuantityException;

/**
 * Isotropic elements on a line with their amplitudes. Errors name the fields {@code
 * spacingWavelengths}, {@code positionsWavelengths} and {@code taper}.
 */
public final class LinearArray {
  private static final double LARGEST_APERTURE = 100_000;
  private static final double MOST_TERMS = 3e8;

  private final Layout layout;
  private final double[] amplitudes;

  private LinearArray(Layout layout, double[] amplitudes) {
    this.layout = layout;
    this.amplitudes = amplitudes;
  }

  /**
   * Elements at equal distances.
   *
   * @param spacingWavelengths distance, wavelengths, above 0; the whole line up to 100 000
   * @param taper amplitudes, 1 to 10 000 of them, 0 or more, not all 0
   */
  public static LinearArray ofSpacing(double spacingWavelengths, double[] taper) {
    String field = "spacingWavelengths";
    Checks.positive(field, spacingWavelengths);
    Checks.taper("taper", taper);
    requireAperture(field, spacingWavelengths * taper.length);
    if (spacingWavelengths * taper.length < 1) {
      double[] x = new double[taper.length];
      for (int n = 0; n < x.length; n++) {
        x[n] = n * spacingWavelengths;
      }
      return new LinearArray(new FreeLayout(x), taper.clone());
    }
    return new LinearArray(new EvenLayout(taper.length, spacingWavelengths), taper.clone());
  }

  /**
   * Elements at given places.
   *
   * @param positionsWavelengths places along the line, wavelengths, ascending; the whole line up to
   *     100 000 and few enough elements for so long a line
   * @param taper amplitudes, one per element, 0 or more, not all 0
   */
  public static LinearArray ofPositions(double[] positionsWavelengths, double[] taper) {
    String field = "positionsWavelengths";
    Checks.taper("taper", taper);
    Checks.finite(field, positionsWavelengths, taper.length);
    for (int n = 1; n < taper.length; n++) {
      if (positionsWavelengths[n] <= positionsWavelengths[n - 1]) {
        throw new InvalidQuantityException(
            field + "[" + n + "]",
            field
                + " must ascend, but "
                + positionsWavelengths[n]
                + " follows "
                + positionsWavelengths[n - 1]);
      }
    }
    double aperture = positionsWavelengths[taper.length - 1] - positionsWavelengths[0];
    requireAperture(field, aperture);
    if (2 * Layout.POINTS_PER_LOBE * aperture * taper.length > MOST_TERMS) {
      throw new InvalidQuantityException(
          field,
          field
              + " of "
              + taper.length
              + " elements may reach over "
              + Math.floor(MOST_TERMS / (2 * Layout.POINTS_PER_LOBE * taper.length))
              + " wavelengths, not "
              + aperture);
    }
    double[] fromFirst = new double[taper.length];
    for (int n = 0; n < fromFirst.length; n++) {
      fromFirst[n] = positionsWavelengths[n] - positionsWavelengths[0];
    }
    return new LinearArray(new FreeLayout(fromFirst), taper.clone());
  }

  public int elements() {
    return amplitudes.length;
  }

  /** Work of one array factor. */
  double terms() {
    return layout.terms();
  }

  double amplitude(int n) {
    return amplitudes[n];
  }

  /** The lobes for phase errors in degrees, steered to u0. */
  LinearLobes lobes(double u0, double[] phaseErrorDeg) {
    double[] re = new double[amplitudes.length];
    double[] im = new double[amplitudes.length];
    for (int n = 0; n < re.length; n++) {
      double turns = Math.IEEEremainder(phaseErrorDeg[n], 360) / 360;
      double radians = 2 * Math.PI * (turns - Math.IEEEremainder(layout.position(n) * u0, 1));
      re[n] = amplitudes[n] * Math.cos(radians);
      im[n] = amplitudes[n] * Math.sin(radians);
    }
    return LinearLobes.of(layout, re, im, u0);
  }

  private static void requireAperture(String field, double aperture) {
    if (!(aperture <= LARGEST_APERTURE)) {
      throw new InvalidQuantityException(
          field,
          field
              + " must keep the line within "
              + LARGEST_APERTURE
              + " wavelengths, but makes it "
              + aperture);
    }
  }
}
