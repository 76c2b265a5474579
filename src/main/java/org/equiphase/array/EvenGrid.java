package org.equiphase.array;

/** Values from −1 to 1 with both ends, at equal distances and with 0 among them. */
final class EvenGrid {
  // Phasors turned step by step are set anew now and then, so that no rounding adds up.
  private static final int FRESH_EVERY = 256;

  private EvenGrid() {}

  static double[] ofHalf(int half) {
    double[] grid = new double[2 * half + 1];
    for (int i = 0; i < grid.length; i++) {
      grid[i] = (i - half) / (double) half;
    }
    return grid;
  }

  /** Adds W·exp(j·2π·x·u) at all u of a grid, x in wavelengths. */
  static void addElement(
      double re, double im, double x, double[] grid, double[] sumRe, double[] sumIm) {
    double step = grid[1] - grid[0];
    double stepCos = Math.cos(2 * Math.PI * x * step);
    double stepSin = Math.sin(2 * Math.PI * x * step);
    double termRe = 0;
    double termIm = 0;
    for (int i = 0; i < grid.length; i++) {
      if (i % FRESH_EVERY == 0) {
        double radians = 2 * Math.PI * Math.IEEEremainder(x * grid[i], 1);
        double cos = Math.cos(radians);
        double sin = Math.sin(radians);
        termRe = re * cos - im * sin;
        termIm = re * sin + im * cos;
      }
      sumRe[i] += termRe;
      sumIm[i] += termIm;
      double turnedRe = termRe * stepCos - termIm * stepSin;
      termIm = termRe * stepSin + termIm * stepCos;
      termRe = turnedRe;
    }
  }
}
