package org.equiphase.matching;

import java.util.Arrays;

/**
 * Nodes and weights to average over a normally distributed length, where the function averaged
 * changes at known places (edges) over known widths, each like a normal distribution function.
 *
 * <p>Where all is smooth, the trapezoidal rule: for a product of normal shapes its error falls as
 * exp(−2π²/step²), the step in units of their joint width. Where an edge is sharp, Gauss–Legendre
 * panels that are short only near the edges.
 */
final class LengthRule {

  /** The tails beyond hold 6e-10. */
  private static final double REACH = 6.2;

  /** Good to 1e-9. */
  static final double FINE = 0.95;

  /** Good to 1e-4 at worst, mostly much better. */
  static final double COARSE = 1.5;

  private static final int MOST_STEPS = 400;

  /** Widths from an edge to where it is flat to 1e-10. */
  private static final double FLAT = 6.5;

  /** Edges farther apart than this many widths don't sharpen each other. */
  private static final double TOGETHER = 3;

  private static final double PANEL = 4;
  private static final GaussLegendre TEN = new GaussLegendre(10);

  /** Deviation from the mean length, in standard deviations. */
  final double[] at;

  /** Weights; they add up to 1. */
  final double[] weight;

  private LengthRule(double[] at, double[] weight) {
    this.at = at;
    this.weight = weight;
    double sum = Arrays.stream(weight).sum();
    for (int i = 0; i < weight.length; i++) {
      weight[i] /= sum;
    }
  }

  /**
   * @param meanMm mean length
   * @param sdMm its standard deviation, 0 or more
   * @param edgeMm two edges for each width
   * @param widthMm widths, above 0
   */
  static LengthRule of(double meanMm, double sdMm, double[] edgeMm, double[] widthMm) {
    return of(meanMm, sdMm, edgeMm, widthMm, FINE);
  }

  /**
   * @param fineness step of the trapezoidal rule in joint widths
   */
  static LengthRule of(
      double meanMm, double sdMm, double[] edgeMm, double[] widthMm, double fineness) {
    if (sdMm == 0) {
      return new LengthRule(new double[] {0}, new double[] {1});
    }
    double narrowness = 1 + sdMm * sdMm * sharpest(meanMm, sdMm, edgeMm, widthMm);
    double step = fineness / Math.sqrt(narrowness);
    return step * MOST_STEPS > 2 * REACH
        ? trapezoid((int) Math.ceil(REACH / step))
        : panels(meanMm, sdMm, edgeMm, widthMm);
  }

  /** Greatest sum of 1/width² over edges so close that they change the function together. */
  private static double sharpest(double meanMm, double sdMm, double[] edgeMm, double[] widthMm) {
    double sharpest = 0;
    for (int i = 0; i < edgeMm.length; i++) {
      if (Math.abs(edgeMm[i] - meanMm) > REACH * sdMm + FLAT * widthMm[i / 2]) {
        continue;
      }
      double sum = 0;
      for (int k = 0; k < widthMm.length; k++) {
        double near = TOGETHER * (widthMm[i / 2] + widthMm[k]);
        if (Math.abs(edgeMm[2 * k] - edgeMm[i]) < near
            || Math.abs(edgeMm[2 * k + 1] - edgeMm[i]) < near) {
          sum += 1 / (widthMm[k] * widthMm[k]);
        }
      }
      sharpest = Math.max(sharpest, sum);
    }
    return sharpest;
  }

  private static LengthRule trapezoid(int half) {
    double[] at = new double[2 * half + 1];
    double[] weight = new double[2 * half + 1];
    double step = REACH / half;
    double ratio = Math.exp(-step * step / 2);
    double decay = ratio * ratio;
    double value = 1;
    for (int i = 0; i <= half; i++) {
      at[half + i] = i * step;
      at[half - i] = -i * step;
      weight[half + i] = value;
      weight[half - i] = value;
      value *= ratio;
      ratio *= decay;
    }
    return new LengthRule(at, weight);
  }

  private static LengthRule panels(double meanMm, double sdMm, double[] edgeMm, double[] widthMm) {
    double[] edge = new double[edgeMm.length];
    double[] width = new double[edgeMm.length];
    double[] breaks = new double[2 * edgeMm.length + 2];
    for (int i = 0; i < edge.length; i++) {
      edge[i] = (edgeMm[i] - meanMm) / sdMm;
      width[i] = widthMm[i / 2] / sdMm;
      breaks[2 * i] = clamp(edge[i] - FLAT * width[i]);
      breaks[2 * i + 1] = clamp(edge[i] + FLAT * width[i]);
    }
    breaks[breaks.length - 2] = -REACH;
    breaks[breaks.length - 1] = REACH;
    Arrays.sort(breaks);
    Collector nodes = new Collector();
    for (int i = 1; i < breaks.length; i++) {
      double low = breaks[i - 1];
      double length = breaks[i] - low;
      if (length <= 0) {
        continue;
      }
      double middle = low + length / 2;
      double narrowness = 1;
      for (int j = 0; j < edge.length; j++) {
        if (Math.abs(middle - edge[j]) < FLAT * width[j]) {
          narrowness += 1 / (width[j] * width[j]);
        }
      }
      int panels = (int) Math.ceil(length * Math.sqrt(narrowness) / PANEL);
      for (int p = 0; p < panels; p++) {
        nodes.add(low + length * p / panels, length / panels);
      }
    }
    return nodes.rule();
  }

  private static double clamp(double value) {
    return Math.max(-REACH, Math.min(REACH, value));
  }

  /** Collects the nodes of panels under the normal density. */
  private static final class Collector {
    private double[] at = new double[256];
    private double[] weight = new double[256];
    private int size;

    void add(double low, double length) {
      if (size + TEN.size() > at.length) {
        at = Arrays.copyOf(at, 2 * at.length);
        weight = Arrays.copyOf(weight, 2 * weight.length);
      }
      for (int i = 0; i < TEN.size(); i++) {
        double x = low + length * TEN.node(i);
        at[size] = x;
        weight[size] = length * TEN.weight(i) * Math.exp(-x * x / 2);
        size++;
      }
    }

    LengthRule rule() {
      return new LengthRule(Arrays.copyOf(at, size), Arrays.copyOf(weight, size));
    }
  }
}
