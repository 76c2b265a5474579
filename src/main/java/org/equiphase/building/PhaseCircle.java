package org.equiphase.building;

import java.util.Arrays;
import org.equiphase.rf.WrappedPhase;

/** Errors of several assemblies where turns don't count: they lie on a circle. */
final class PhaseCircle {

  private PhaseCircle() {}

  /** Takes each error to between −180° and 180°, as it counts against a given target. */
  static void wrap(double[][] errorDeg) {
    for (double[] each : errorDeg) {
      Arrays.setAll(each, k -> WrappedPhase.wrapDeg(each[k]));
    }
  }

  /**
   * Opens the circle of each frequency at its widest gap, so that what lies together on the circle
   * lies together on the line.
   */
  static void open(double[][] errorDeg) {
    if (errorDeg.length < 2) {
      wrap(errorDeg);
      return;
    }
    for (int k = 0; k < errorDeg[0].length; k++) {
      open(errorDeg, k);
    }
  }

  private static void open(double[][] deg, int k) {
    double[] sorted = new double[deg.length];
    for (int i = 0; i < deg.length; i++) {
      deg[i][k] -= 360 * Math.floor(deg[i][k] / 360);
      sorted[i] = deg[i][k];
    }
    Arrays.sort(sorted);
    double start = sorted[0];
    double widest = sorted[0] + 360 - sorted[sorted.length - 1];
    for (int i = 1; i < sorted.length; i++) {
      if (sorted[i] - sorted[i - 1] > widest) {
        widest = sorted[i] - sorted[i - 1];
        start = sorted[i];
      }
    }
    for (int i = 0; i < deg.length; i++) {
      deg[i][k] = deg[i][k] < start ? deg[i][k] + 360 : deg[i][k];
    }
  }
}
