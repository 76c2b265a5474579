package org.equiphase.matching;

/** Textbook dual simplex on a dense tableau, for the small programs of the tests. */
final class DualSimplex {

  private DualSimplex() {}

  /** Least cost·x with rows·x ≤ limits and x ≥ 0; the cost must not be negative. */
  static double minimum(double[] cost, double[][] rows, double[] limits) {
    int n = cost.length;
    int m = rows.length;
    double[][] tableau = new double[m + 1][n + m + 1];
    for (int r = 0; r < m; r++) {
      System.arraycopy(rows[r], 0, tableau[r], 0, n);
      tableau[r][n + r] = 1;
      tableau[r][n + m] = limits[r];
    }
    System.arraycopy(cost, 0, tableau[m], 0, n);
    for (int pivots = 0; pivots < 10_000; pivots++) {
      int row = mostNegative(tableau, m, n + m);
      if (row < 0) {
        return -tableau[m][n + m];
      }
      pivot(tableau, row, entering(tableau, row, n + m));
    }
    throw new IllegalStateException("no end of pivots");
  }

  private static int mostNegative(double[][] tableau, int m, int last) {
    int row = -1;
    for (int r = 0; r < m; r++) {
      if (tableau[r][last] < (row < 0 ? -1e-11 : tableau[row][last])) {
        row = r;
      }
    }
    return row;
  }

  private static int entering(double[][] tableau, int row, int columns) {
    int found = -1;
    double least = Double.POSITIVE_INFINITY;
    for (int c = 0; c < columns; c++) {
      if (tableau[row][c] < -1e-10) {
        double ratio = tableau[tableau.length - 1][c] / -tableau[row][c];
        if (ratio < least - 1e-13) {
          least = ratio;
          found = c;
        }
      }
    }
    if (found < 0) {
      throw new IllegalStateException("no solution, residual " + tableau[row][columns]);
    }
    return found;
  }

  private static void pivot(double[][] tableau, int row, int column) {
    double divisor = tableau[row][column];
    for (int c = 0; c < tableau[row].length; c++) {
      tableau[row][c] /= divisor;
    }
    for (int r = 0; r < tableau.length; r++) {
      double factor = tableau[r][column];
      if (r != row && factor != 0) {
        for (int c = 0; c < tableau[r].length; c++) {
          tableau[r][c] -= factor * tableau[row][c];
        }
      }
    }
  }
}
