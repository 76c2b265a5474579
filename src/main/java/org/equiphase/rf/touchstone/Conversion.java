package org.equiphase.rf.touchstone;

import org.equiphase.rf.Complex;
import org.jspecify.annotations.Nullable;

/**
 * Converts network parameters to S. With independent quantities x, port voltages P·x and port
 * currents Q·x, the waves a and b = (V ± R·I)/(2·√R) give S = D·(P − R·Q)·(P + R·Q)⁻¹·D⁻¹, D = 1/√R
 * (any text on network parameters).
 */
final class Conversion {
  private Conversion() {}

  /**
   * S-parameters of one point.
   *
   * @param kind what the matrix holds, in SI units
   * @param matrix parameters by row and column
   * @param referenceOhm reference resistance of each port, ohm
   * @return S, or null where the network has none because the equations are singular
   */
  static Complex @Nullable [][] toS(ParameterKind kind, Complex[][] matrix, double[] referenceOhm) {
    if (kind == ParameterKind.S) {
      return matrix;
    }
    int n = matrix.length;
    Complex[][] voltage = new Complex[n][n];
    Complex[][] current = new Complex[n][n];
    for (int row = 0; row < n; row++) {
      boolean voltageIsGiven =
          kind == ParameterKind.Z
              || (kind == ParameterKind.H && row == 0)
              || (kind == ParameterKind.G && row == 1);
      for (int column = 0; column < n; column++) {
        Complex unity = row == column ? Complex.ONE : Complex.ZERO;
        voltage[row][column] = voltageIsGiven ? matrix[row][column] : unity;
        current[row][column] = voltageIsGiven ? unity : matrix[row][column];
      }
    }
    Complex[][] sum = new Complex[n][n];
    Complex[][] difference = new Complex[n][n];
    for (int row = 0; row < n; row++) {
      for (int column = 0; column < n; column++) {
        Complex drop = current[row][column].times(referenceOhm[row]);
        double scale = 1 / Math.sqrt(referenceOhm[row]);
        sum[row][column] = voltage[row][column].plus(drop).times(scale);
        difference[row][column] = voltage[row][column].minus(drop).times(scale);
      }
    }
    return rightQuotient(difference, sum);
  }

  /**
   * Scales parameters that a version 1 file normalises to its one R into SI units.
   *
   * @param row row, from 0
   * @param column column, from 0
   */
  static double scaleOfNormalised(ParameterKind kind, int row, int column, double ohm) {
    return switch (kind) {
      case S -> 1;
      case Z -> ohm;
      case Y -> 1 / ohm;
      case H -> row != column ? 1 : row == 0 ? ohm : 1 / ohm;
      case G -> row != column ? 1 : row == 0 ? 1 / ohm : ohm;
    };
  }

  /** X with X·divisor = dividend, by elimination over columns with pivoting; null if singular. */
  private static Complex @Nullable [][] rightQuotient(Complex[][] dividend, Complex[][] divisor) {
    int n = divisor.length;
    for (int step = 0; step < n; step++) {
      int pivot = step;
      for (int column = step + 1; column < n; column++) {
        if (divisor[step][column].abs() > divisor[step][pivot].abs()) {
          pivot = column;
        }
      }
      if (divisor[step][pivot].abs() == 0) {
        return null;
      }
      swapColumns(divisor, step, pivot);
      swapColumns(dividend, step, pivot);
      for (int column = 0; column < n; column++) {
        if (column != step) {
          Complex factor = divisor[step][column].dividedBy(divisor[step][step]);
          subtractColumn(divisor, column, step, factor);
          subtractColumn(dividend, column, step, factor);
        }
      }
    }
    for (int row = 0; row < n; row++) {
      for (int column = 0; column < n; column++) {
        dividend[row][column] = dividend[row][column].dividedBy(divisor[column][column]);
        if (!dividend[row][column].isFinite()) {
          return null;
        }
      }
    }
    return dividend;
  }

  private static void swapColumns(Complex[][] matrix, int one, int other) {
    for (Complex[] row : matrix) {
      Complex kept = row[one];
      row[one] = row[other];
      row[other] = kept;
    }
  }

  private static void subtractColumn(Complex[][] matrix, int from, int column, Complex factor) {
    for (Complex[] row : matrix) {
      row[from] = row[from].minus(row[column].times(factor));
    }
  }
}
