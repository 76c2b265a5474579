package org.equiphase.array;

import java.util.Arrays;
import org.equiphase.rf.InvalidQuantityException;

/** Amplitudes of the elements of a line, the largest 1. */
public final class Taper {
  private static final double LOWEST_DB = -120;

  private Taper() {}

  /** All amplitudes equal. */
  public static double[] uniform(int elements) {
    double[] amplitudes = new double[Checks.elements("elements", elements)];
    Arrays.fill(amplitudes, 1);
    return amplitudes;
  }

  /**
   * Taylor's taper, sampled at the elements: A(x) = 1 + 2·Σ F(m)·cos(2πm·x), m = 1…n̄ − 1, x from
   * −½ to ½ over the line (T. T. Taylor, IRE Trans. AP-3, 1955). The sidelobes nearest the main
   * lobe come out close to the level; with few elements they differ by a fraction of a dB.
   *
   * @param sidelobeDb level of the sidelobes against the peak, dB, −120 to below 0
   * @param nBar n̄, number of nearly equal sidelobes on each side plus one, 1 up to the elements
   */
  public static double[] taylor(int elements, double sidelobeDb, int nBar) {
    Checks.elements("elements", elements);
    sidelobeDb(sidelobeDb);
    if (nBar < 1 || nBar > elements) {
      throw new InvalidQuantityException(
          "nBar", "nBar must lie from 1 to the number of elements, " + elements + ", not " + nBar);
    }
    double a = acosh(Math.pow(10, -sidelobeDb / 20)) / Math.PI;
    double dilationSquared = nBar * (double) nBar / (a * a + (nBar - 0.5) * (nBar - 0.5));
    double[] amplitudes = uniform(elements);
    for (int m = 1; m < nBar; m++) {
      double f = 0.5 * (m % 2 == 1 ? 1 : -1);
      for (int k = 1; k < nBar; k++) {
        double half = k - 0.5;
        f *= 1 - m * (double) m / dilationSquared / (a * a + half * half);
        if (k != m) {
          f /= 1 - m * (double) m / (k * (double) k);
        }
      }
      for (int n = 0; n < elements; n++) {
        double x = (n - (elements - 1) / 2.0) / elements;
        amplitudes[n] += 2 * f * Math.cos(2 * Math.PI * m * x);
      }
    }
    return scaled(amplitudes);
  }

  /**
   * Dolph's taper: the array factor is the Chebyshev polynomial T(N−1) of x0·cos(ψ/2), so that all
   * sidelobes are equal (C. L. Dolph, Proc. IRE 34, 1946). The amplitudes follow by a discrete
   * Fourier transform of the polynomial.
   *
   * @param sidelobeDb level of all sidelobes against the peak, dB, −120 to below 0
   */
  public static double[] chebyshev(int elements, double sidelobeDb) {
    Checks.elements("elements", elements);
    sidelobeDb(sidelobeDb);
    if (elements == 1) {
      return uniform(1);
    }
    int order = elements - 1;
    double x0 = Math.cosh(acosh(Math.pow(10, -sidelobeDb / 20)) / order);
    double[] factor = new double[elements];
    for (int k = 0; k < elements; k++) {
      factor[k] = chebyshevPolynomial(order, x0 * Math.cos(Math.PI * k / elements));
    }
    double[] cosine = new double[2 * elements];
    for (int i = 0; i < cosine.length; i++) {
      cosine[i] = Math.cos(Math.PI * i / elements);
    }
    double[] amplitudes = new double[elements];
    for (int n = 0; n < elements; n++) {
      long halfSteps = 2L * n - order;
      for (int k = 0; k < elements; k++) {
        amplitudes[n] += factor[k] * cosine[(int) Math.floorMod(halfSteps * k, 2L * elements)];
      }
    }
    return scaled(amplitudes);
  }

  /** T(n) of x, for any x. */
  static double chebyshevPolynomial(int order, double x) {
    if (Math.abs(x) <= 1) {
      return Math.cos(order * Math.acos(x));
    }
    double grown = Math.cosh(order * acosh(Math.abs(x)));
    return x < 0 && order % 2 == 1 ? -grown : grown;
  }

  private static double acosh(double x) {
    return Math.log(x + Math.sqrt((x - 1) * (x + 1)));
  }

  private static void sidelobeDb(double sidelobeDb) {
    if (!(sidelobeDb >= LOWEST_DB && sidelobeDb < 0)) {
      throw new InvalidQuantityException(
          "sidelobeDb",
          "sidelobeDb is a level against the peak and must lie from "
              + LOWEST_DB
              + " to below 0 dB, not at "
              + sidelobeDb);
    }
  }

  private static double[] scaled(double[] amplitudes) {
    double largest = 0;
    for (double amplitude : amplitudes) {
      largest = Math.max(largest, amplitude);
    }
    for (int n = 0; n < amplitudes.length; n++) {
      amplitudes[n] /= largest;
    }
    return amplitudes;
  }
}
