package org.equiphase.array;

import java.util.Arrays;

/** The array factor written down as defined, on a dense scan: a second route for the tests. */
final class DensePattern {
  private final int half;
  private final double[] power;
  private int peak;

  /** A scan in steps of 1/half. */
  DensePattern(int half, double[] x, double[] taper, double u0, double[] phaseErrorDeg) {
    this.half = half;
    power = new double[2 * half + 1];
    for (int i = 0; i < power.length; i++) {
      power[i] = power(x, taper, u(i) - u0, phaseErrorDeg);
      if (power[i] > power[peak] * (1 + 1e-12)
          || power[i] >= power[peak] * (1 - 1e-12)
              && Math.abs(u(i) - u0) < Math.abs(u(peak) - u0)) {
        peak = i;
      }
    }
  }

  static double power(double[] x, double[] taper, double du, double[] phaseErrorDeg) {
    double re = 0;
    double im = 0;
    for (int n = 0; n < x.length; n++) {
      double radians = 2 * Math.PI * x[n] * du + Math.toRadians(phaseErrorDeg[n]);
      re += taper[n] * Math.cos(radians);
      im += taper[n] * Math.sin(radians);
    }
    return re * re + im * im;
  }

  double peakU() {
    return u(peak);
  }

  double peakPower() {
    return power[peak];
  }

  /** Largest outside the first minima around the peak; 0 where nothing lies outside. */
  double sidelobePower() {
    int left = peak;
    while (left > 0 && power[left - 1] <= power[left]) {
      left--;
    }
    int right = peak;
    while (right < power.length - 1 && power[right + 1] <= power[right]) {
      right++;
    }
    double below = left == 0 ? 0 : Arrays.stream(power, 0, left + 1).max().orElse(0);
    double above =
        right == power.length - 1 ? 0 : Arrays.stream(power, right, power.length).max().orElse(0);
    return Math.max(below, above);
  }

  private double u(int i) {
    return (i - half) / (double) half;
  }
}
