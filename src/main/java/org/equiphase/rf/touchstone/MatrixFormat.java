package org.equiphase.rf.touchstone;

/** Which elements of each matrix a version 2 file holds. */
enum MatrixFormat {
  FULL,
  LOWER,
  UPPER;

  /** Number of elements of a matrix. */
  int elements(int ports) {
    return this == FULL ? ports * ports : ports * (ports + 1) / 2;
  }

  int firstColumn(int row) {
    return this == UPPER ? row : 0;
  }

  int endColumn(int row, int ports) {
    return this == LOWER ? row + 1 : ports;
  }
}
