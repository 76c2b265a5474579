package org.equiphase.array;

/** Elements anywhere on the line; sums are taken one by one. */
final class FreeLayout implements Layout {
  private static final int LEAST_HALF = 64;

  private final double[] x;
  private final double middle;
  private final double[] grid;

  FreeLayout(double[] positions) {
    x = positions.clone();
    double aperture = x[x.length - 1] - x[0];
    middle = x[0] + aperture / 2;
    int half = Math.max(LEAST_HALF, (int) Math.ceil(POINTS_PER_LOBE * aperture));
    grid = EvenGrid.ofHalf(half);
  }

  @Override
  public double position(int n) {
    return x[n];
  }

  @Override
  public double[] grid() {
    return grid;
  }

  @Override
  public double[] gridPower(double[] re, double[] im) {
    double[] sumRe = new double[grid.length];
    double[] sumIm = new double[grid.length];
    for (int n = 0; n < x.length; n++) {
      EvenGrid.addElement(re[n], im[n], x[n], grid, sumRe, sumIm);
    }
    for (int i = 0; i < grid.length; i++) {
      sumRe[i] = sumRe[i] * sumRe[i] + sumIm[i] * sumIm[i];
    }
    return sumRe;
  }

  @Override
  public double terms() {
    return (double) x.length * grid.length;
  }

  @Override
  public Value at(double u, double[] re, double[] im) {
    double sumRe = 0;
    double sumIm = 0;
    double sumRe1 = 0;
    double sumIm1 = 0;
    double sumRe2 = 0;
    double sumIm2 = 0;
    for (int n = 0; n < x.length; n++) {
      double radians = 2 * Math.PI * Math.IEEEremainder(x[n] * u, 1);
      double cos = Math.cos(radians);
      double sin = Math.sin(radians);
      double termRe = re[n] * cos - im[n] * sin;
      double termIm = re[n] * sin + im[n] * cos;
      // From the middle of the line; |AF| doesn't depend on where x is counted from.
      double arm = x[n] - middle;
      sumRe += termRe;
      sumIm += termIm;
      sumRe1 += arm * termRe;
      sumIm1 += arm * termIm;
      sumRe2 += arm * arm * termRe;
      sumIm2 += arm * arm * termIm;
    }
    return Value.ofSums(sumRe, sumIm, sumRe1, sumIm1, sumRe2, sumIm2);
  }
}
