package org.equiphase.array;

import java.util.Arrays;

/** Where the elements of a plane stand, and |AF|² of complex weights over u and v. */
final class PlanarLayout {
  private static final int POINTS_PER_LOBE = 8;
  private static final int LEAST_HALF = 32;

  /** |AF|² with its gradient and second derivatives with respect to u and v. */
  record Value(double power, double du, double dv, double duu, double duv, double dvv) {}

  private final double[] x;
  private final double[] y;
  private final double middleX;
  private final double middleY;
  private final double[] gridU;
  private final double[] gridV;
  private final double[] rowY;
  private final int[] rowOf;

  /** Elements at x and y, wavelengths, both from 0 up. */
  PlanarLayout(double[] x, double[] y) {
    this.x = x;
    this.y = y;
    double extentX = Arrays.stream(x).max().orElse(0);
    double extentY = Arrays.stream(y).max().orElse(0);
    middleX = extentX / 2;
    middleY = extentY / 2;
    gridU = EvenGrid.ofHalf(half(extentX));
    gridV = EvenGrid.ofHalf(half(extentY));
    rowY = Arrays.stream(y).sorted().distinct().toArray();
    rowOf = new int[y.length];
    for (int n = 0; n < y.length; n++) {
      rowOf[n] = Arrays.binarySearch(rowY, y[n]);
    }
  }

  /** Number of grid points from −1 to 1 that an extent in wavelengths needs. */
  static double points(double extent) {
    return 2 * Math.max(LEAST_HALF, Math.ceil(POINTS_PER_LOBE * extent)) + 1;
  }

  private static int half(double extent) {
    return (int) points(extent) / 2;
  }

  double x(int n) {
    return x[n];
  }

  double y(int n) {
    return y[n];
  }

  double[] gridU() {
    return gridU;
  }

  double[] gridV() {
    return gridV;
  }

  /** |AF|² by grid v and u: rows of elements first, so that regular grids are quick. */
  double[][] gridPower(double[] re, double[] im) {
    double[][] rowRe = new double[rowY.length][gridU.length];
    double[][] rowIm = new double[rowY.length][gridU.length];
    for (int n = 0; n < x.length; n++) {
      EvenGrid.addElement(re[n], im[n], x[n], gridU, rowRe[rowOf[n]], rowIm[rowOf[n]]);
    }
    double[][] power = new double[gridV.length][gridU.length];
    double[] sumRe = new double[gridU.length];
    double[] sumIm = new double[gridU.length];
    for (int j = 0; j < gridV.length; j++) {
      Arrays.fill(sumRe, 0);
      Arrays.fill(sumIm, 0);
      for (int r = 0; r < rowY.length; r++) {
        double radians = 2 * Math.PI * Math.IEEEremainder(rowY[r] * gridV[j], 1);
        double cos = Math.cos(radians);
        double sin = Math.sin(radians);
        for (int i = 0; i < sumRe.length; i++) {
          sumRe[i] += rowRe[r][i] * cos - rowIm[r][i] * sin;
          sumIm[i] += rowRe[r][i] * sin + rowIm[r][i] * cos;
        }
      }
      for (int i = 0; i < sumRe.length; i++) {
        power[j][i] = sumRe[i] * sumRe[i] + sumIm[i] * sumIm[i];
      }
    }
    return power;
  }

  Value at(double u, double v, double[] weightRe, double[] weightIm) {
    double re = 0;
    double im = 0;
    double reX = 0;
    double imX = 0;
    double reY = 0;
    double imY = 0;
    double reXX = 0;
    double imXX = 0;
    double reXY = 0;
    double imXY = 0;
    double reYY = 0;
    double imYY = 0;
    for (int n = 0; n < x.length; n++) {
      double radians = 2 * Math.PI * Math.IEEEremainder(x[n] * u + y[n] * v, 1);
      double cos = Math.cos(radians);
      double sin = Math.sin(radians);
      double termRe = weightRe[n] * cos - weightIm[n] * sin;
      double termIm = weightRe[n] * sin + weightIm[n] * cos;
      double a = x[n] - middleX;
      double b = y[n] - middleY;
      re += termRe;
      im += termIm;
      reX += a * termRe;
      imX += a * termIm;
      reY += b * termRe;
      imY += b * termIm;
      reXX += a * a * termRe;
      imXX += a * a * termIm;
      reXY += a * b * termRe;
      imXY += a * b * termIm;
      reYY += b * b * termRe;
      imYY += b * b * termIm;
    }
    double k = 2 * Math.PI;
    return new Value(
        re * re + im * im,
        2 * k * (im * reX - re * imX),
        2 * k * (im * reY - re * imY),
        2 * k * k * (reX * reX + imX * imX - re * reXX - im * imXX),
        2 * k * k * (reX * reY + imX * imY - re * reXY - im * imXY),
        2 * k * k * (reY * reY + imY * imY - re * reYY - im * imYY));
  }
}
