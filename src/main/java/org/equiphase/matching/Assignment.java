package org.equiphase.matching;

import static org.equiphase.matching.ProblemCheck.refuse;

import java.util.Arrays;

/**
 * The assignment problem: each row gets a column of its own so that the costs add up to the least,
 * or so that the greatest of them is least. Both answers are exact.
 *
 * <p>The least sum is found by shortest augmenting paths with potentials (the Hungarian method; H.
 * W. Kuhn, 1955; this form after R. Jonker and A. Volgenant, 1987), in rows² · columns steps. The
 * least worst follows by a search on the sorted costs for the least limit under which an assignment
 * exists (the bottleneck assignment problem).
 */
public final class Assignment {

  private Assignment() {}

  /**
   * The assignment with the least sum.
   *
   * @param cost by row and column; finite, with at least as many columns as rows
   * @return the column of each row
   * @throws InvalidProblemException if the costs can't be read so
   */
  public static int[] leastSum(double[][] cost) {
    check(cost);
    return solve(cost);
  }

  /**
   * The assignment whose greatest cost is least; among those, one with the least sum.
   *
   * @param cost as for {@link #leastSum}, and none below 0
   */
  public static int[] leastWorst(double[][] cost) {
    check(cost);
    double[] sorted = Arrays.stream(cost).flatMapToDouble(Arrays::stream).sorted().toArray();
    if (sorted.length > 0 && sorted[0] < 0) {
      throw refuse("cost", "must be at least 0, not " + sorted[0]);
    }
    int low = 0;
    int high = sorted.length - 1;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (worst(cost, solve(priced(cost, sorted[middle], 0, 1))) <= sorted[middle]) {
        high = middle;
      } else {
        low = middle + 1;
      }
    }
    double limit = sorted.length == 0 ? 0 : sorted[low];
    return solve(priced(cost, limit, 1, cost.length * limit + 1));
  }

  /** The sum of an assignment's costs. */
  public static double sum(double[][] cost, int[] columns) {
    double sum = 0;
    for (int row = 0; row < columns.length; row++) {
      sum += cost[row][columns[row]];
    }
    return sum;
  }

  /** The greatest of an assignment's costs; 0 without rows. */
  public static double worst(double[][] cost, int[] columns) {
    double worst = 0;
    for (int row = 0; row < columns.length; row++) {
      worst = Math.max(worst, cost[row][columns[row]]);
    }
    return worst;
  }

  /** Costs scaled up to the limit, and one price for all above it. */
  private static double[][] priced(double[][] cost, double limit, double scale, double above) {
    return Arrays.stream(cost)
        .map(row -> Arrays.stream(row).map(c -> c <= limit ? scale * c : above).toArray())
        .toArray(double[][]::new);
  }

  /** Rows and columns count from 1 inside; column 0 is where each new row starts from. */
  private static int[] solve(double[][] cost) {
    int rows = cost.length;
    int columns = rows == 0 ? 0 : cost[0].length;
    double[] rowPotential = new double[rows + 1];
    double[] columnPotential = new double[columns + 1];
    int[] rowOf = new int[columns + 1];
    int[] before = new int[columns + 1];
    for (int row = 1; row <= rows; row++) {
      rowOf[0] = row;
      int column = 0;
      double[] least = new double[columns + 1];
      boolean[] done = new boolean[columns + 1];
      Arrays.fill(least, Double.POSITIVE_INFINITY);
      do {
        done[column] = true;
        int next = 0;
        double step = Double.POSITIVE_INFINITY;
        for (int j = 1; j <= columns; j++) {
          if (done[j]) {
            continue;
          }
          double reduced =
              cost[rowOf[column] - 1][j - 1] - rowPotential[rowOf[column]] - columnPotential[j];
          if (reduced < least[j]) {
            least[j] = reduced;
            before[j] = column;
          }
          if (least[j] < step) {
            step = least[j];
            next = j;
          }
        }
        for (int j = 0; j <= columns; j++) {
          if (done[j]) {
            rowPotential[rowOf[j]] += step;
            columnPotential[j] -= step;
          } else {
            least[j] -= step;
          }
        }
        column = next;
      } while (rowOf[column] != 0);
      while (column != 0) {
        rowOf[column] = rowOf[before[column]];
        column = before[column];
      }
    }
    int[] columnOf = new int[rows];
    for (int j = 1; j <= columns; j++) {
      if (rowOf[j] != 0) {
        columnOf[rowOf[j] - 1] = j - 1;
      }
    }
    return columnOf;
  }

  private static void check(double[][] cost) {
    for (double[] row : cost) {
      if (row.length != cost[0].length) {
        throw refuse("cost", "must hold as many values in each row");
      }
      if (row.length < cost.length) {
        throw refuse("cost", "must have at least as many columns as rows");
      }
      for (double each : row) {
        if (!Double.isFinite(each)) {
          throw refuse("cost", "must be a finite number, not " + each);
        }
      }
    }
  }
}
