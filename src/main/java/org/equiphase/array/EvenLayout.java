package org.equiphase.array;

import java.util.Arrays;
import org.equiphase.rf.Fft;

/**
 * Elements at equal distances: |AF|² is periodic in u with 1/spacing, and one fast Fourier
 * transform gives it on a grid over a period.
 */
final class EvenLayout implements Layout {
  private static final int LEAST_POINTS = 256;

  private final int elements;
  private final double spacing;
  private final Fft fft;
  private final int edge;
  private final double[] grid;

  EvenLayout(int elements, double spacing) {
    this.elements = elements;
    this.spacing = spacing;
    fft = Fft.ofAtLeast(Math.max(LEAST_POINTS, POINTS_PER_LOBE * elements));
    double perUnit = fft.size() * spacing;
    // The last point of the transform inside the visible space; ±1 themselves are added.
    edge = (int) Math.ceil(perUnit) - 1;
    grid = new double[2 * edge + 3];
    for (int i = 1; i < grid.length - 1; i++) {
      grid[i] = (i - 1 - edge) / perUnit;
    }
    grid[0] = -1;
    grid[grid.length - 1] = 1;
  }

  @Override
  public double position(int n) {
    return n * spacing;
  }

  @Override
  public double[] grid() {
    return grid;
  }

  @Override
  public double[] gridPower(double[] re, double[] im) {
    int size = fft.size();
    double[] sumRe = Arrays.copyOf(re, size);
    double[] sumIm = Arrays.copyOf(im, size);
    fft.inverseUnscaled(sumRe, sumIm);
    double[] power = new double[grid.length];
    for (int i = 1; i < grid.length - 1; i++) {
      int k = Math.floorMod(i - 1 - edge, size);
      power[i] = sumRe[k] * sumRe[k] + sumIm[k] * sumIm[k];
    }
    power[0] = at(-1, re, im).power();
    power[grid.length - 1] = at(1, re, im).power();
    return power;
  }

  @Override
  public double terms() {
    return fft.size() * Math.log(fft.size()) / Math.log(2) + grid.length;
  }

  /** Horner's scheme, from the last element to the first. */
  @Override
  public Value at(double u, double[] re, double[] im) {
    double radians = 2 * Math.PI * Math.IEEEremainder(spacing * u, 1);
    double cos = Math.cos(radians);
    double sin = Math.sin(radians);
    double sumRe = 0;
    double sumIm = 0;
    double firstRe = 0;
    double firstIm = 0;
    double secondRe = 0;
    double secondIm = 0;
    for (int n = elements - 1; n >= 0; n--) {
      // With p' and p''/2 the derivatives of the polynomial: q'' = q''·z + p', p' = p'·z + p.
      double turned = secondRe * cos - secondIm * sin + firstRe;
      secondIm = secondRe * sin + secondIm * cos + firstIm;
      secondRe = turned;
      turned = firstRe * cos - firstIm * sin + sumRe;
      firstIm = firstRe * sin + firstIm * cos + sumIm;
      firstRe = turned;
      turned = sumRe * cos - sumIm * sin + re[n];
      sumIm = sumRe * sin + sumIm * cos + im[n];
      sumRe = turned;
    }
    // Σ n·W·zⁿ = z·p' and Σ n²·W·zⁿ = z·p' + z²·p''.
    double nRe = firstRe * cos - firstIm * sin;
    double nIm = firstRe * sin + firstIm * cos;
    double cos2 = cos * cos - sin * sin;
    double sin2 = 2 * sin * cos;
    double nnRe = nRe + 2 * (secondRe * cos2 - secondIm * sin2);
    double nnIm = nIm + 2 * (secondRe * sin2 + secondIm * cos2);
    double middle = (elements - 1) / 2.0;
    double d = spacing;
    return Value.ofSums(
        sumRe,
        sumIm,
        d * (nRe - middle * sumRe),
        d * (nIm - middle * sumIm),
        d * d * (nnRe - 2 * middle * nRe + middle * middle * sumRe),
        d * d * (nnIm - 2 * middle * nIm + middle * middle * sumIm));
  }
}
