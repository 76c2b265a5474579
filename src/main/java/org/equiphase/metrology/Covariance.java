package org.equiphase.metrology;

import java.util.Arrays;
import org.equiphase.rf.Require;

/**
 * Standard uncertainties of several quantities and how they go together, as a covariance matrix.
 * Made for results with correlated inputs, such as the real and imaginary part of a reflection
 * coefficient. Unlike {@link UncertaintyBudget} it knows no distributions and degrees of freedom.
 */
public final class Covariance {

  /** What rounding of given correlation coefficients may leave below zero, relative. */
  private static final double ROUNDING = 1e-9;

  private final double[][] matrix;

  private Covariance(double[][] matrix) {
    this.matrix = matrix;
  }

  /**
   * Covariance of quantities from their standard uncertainties and correlation coefficients, u(x_i,
   * x_j) = r_ij·u_i·u_j (JCGM 100:2008, equation 14).
   *
   * @param standardUncertainty u_i, each in the unit of its quantity, 0 or more
   * @param correlation r, square, symmetric, 1 on the diagonal, within −1 to +1
   * @throws org.equiphase.rf.InvalidQuantityException for {@code standardUncertainty} or {@code
   *     correlation} that breaks these rules
   */
  public static Covariance of(double[] standardUncertainty, double[][] correlation) {
    int n = standardUncertainty.length;
    square("correlation", correlation, n);
    double[][] matrix = new double[n][n];
    for (int i = 0; i < n; i++) {
      Require.notNegative("standardUncertainty[" + i + "]", standardUncertainty[i]);
      for (int j = 0; j < n; j++) {
        String at = "correlation[" + i + "][" + j + "]";
        Require.within(at, correlation[i][j], i == j ? 1 : -1, 1);
        if (correlation[i][j] != correlation[j][i]) {
          throw Require.refuse(at, "must equal correlation[" + j + "][" + i + "]");
        }
        matrix[i][j] = correlation[i][j] * standardUncertainty[i] * standardUncertainty[j];
      }
    }
    return new Covariance(matrix);
  }

  /**
   * Combined standard uncertainty of one result of correlated inputs, u_c² = Σ_i Σ_j
   * c_i·c_j·r_ij·u_i·u_j (JCGM 100:2008, equations 13 and 16).
   *
   * @param sensitivity c_i, change of the result per unit of input i, finite
   * @param standardUncertainty as in {@link #of}
   * @param correlation as in {@link #of}
   */
  public static double combine(
      double[] sensitivity, double[] standardUncertainty, double[][] correlation) {
    return of(standardUncertainty, correlation)
        .propagate(new double[][] {sensitivity})
        .standardUncertainty(0);
  }

  /**
   * Covariance of several results of these quantities, J·Σ·Jᵀ (JCGM 102:2011, 6.2.1.3).
   *
   * @param jacobian one row per result: its change per unit of each quantity, finite
   * @throws org.equiphase.rf.InvalidQuantityException for a {@code jacobian} of another width, and
   *     for correlations that can't occur together, which would make a variance negative
   */
  public Covariance propagate(double[][] jacobian) {
    int results = jacobian.length;
    double[][] out = new double[results][results];
    for (int a = 0; a < results; a++) {
      row("jacobian[" + a + "]", jacobian[a], matrix.length);
      for (int b = 0; b <= a; b++) {
        double sum = 0;
        for (int i = 0; i < matrix.length; i++) {
          for (int j = 0; j < matrix.length; j++) {
            sum += jacobian[a][i] * matrix[i][j] * jacobian[b][j];
          }
        }
        out[a][b] = Require.finiteResult("jacobian[" + a + "]", sum);
        out[b][a] = out[a][b];
      }
      out[a][a] = variance(jacobian[a], out[a][a]);
    }
    return new Covariance(out);
  }

  /** How many quantities there are. */
  public int size() {
    return matrix.length;
  }

  /** u(x_i, x_j). */
  public double covariance(int i, int j) {
    return matrix[i][j];
  }

  /** u(x_i), in the unit of the quantity. */
  public double standardUncertainty(int i) {
    return Math.sqrt(matrix[i][i]);
  }

  /** r(x_i, x_j), −1 to +1 (JCGM 100, equation 14); 0 where one of the two is exact. */
  public double correlation(int i, int j) {
    double scale = standardUncertainty(i) * standardUncertainty(j);
    return scale == 0 ? 0 : Math.max(-1, Math.min(1, matrix[i][j] / scale));
  }

  private double variance(double[] sensitivity, double sum) {
    double largest = 0;
    for (int i = 0; i < matrix.length; i++) {
      largest = Math.max(largest, sensitivity[i] * sensitivity[i] * matrix[i][i]);
    }
    if (sum < -ROUNDING * largest) {
      throw Require.refuse(
          "correlation", "holds coefficients that can't occur together: a variance is negative");
    }
    return Math.max(0, sum);
  }

  private static void square(String field, double[][] rows, int size) {
    if (rows.length != size || Arrays.stream(rows).anyMatch(row -> row.length != size)) {
      throw Require.refuse(field, "must have " + size + " rows of " + size + " coefficients");
    }
  }

  private static void row(String field, double[] values, int size) {
    if (values.length != size) {
      throw Require.refuse(field, "must hold " + size + " values, not " + values.length);
    }
    for (double value : values) {
      Require.finite(field, value);
    }
  }
}
