package org.equiphase.matching;

import java.util.List;
import org.equiphase.matching.CutProblem.Spot;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.VelocityFactor;

/**
 * Where the phase errors land when a length is cut off: at every frequency measured + slope·length
 * plus a reading error of its own; the length that really comes off is common to all.
 */
final class Landing {

  /** A reading without uncertainty is taken as this share of its limit: edges need some width. */
  private static final double LEAST_SHARE = 1e-6;

  final int size;
  final double[] measuredDeg;
  final double[] degPerMm;
  final double[] readingDeg;
  final double[] lowDeg;
  final double[] highDeg;

  /** Lengths at which a frequency enters and leaves its limits, and over which it does so. */
  private final double[] edgeMm;

  private final double[] widthMm;

  private Landing(
      double[] measuredDeg,
      double[] degPerMm,
      double[] readingDeg,
      double[] lowDeg,
      double[] highDeg) {
    size = measuredDeg.length;
    this.measuredDeg = measuredDeg;
    this.degPerMm = degPerMm;
    this.readingDeg = readingDeg;
    this.lowDeg = lowDeg;
    this.highDeg = highDeg;
    edgeMm = new double[2 * size];
    widthMm = new double[size];
    for (int k = 0; k < size; k++) {
      edgeMm[2 * k] = (lowDeg[k] - measuredDeg[k]) / degPerMm[k];
      edgeMm[2 * k + 1] = (highDeg[k] - measuredDeg[k]) / degPerMm[k];
      widthMm[k] = readingDeg[k] / degPerMm[k];
    }
  }

  static Landing of(List<Spot> spots, VelocityFactor velocityFactor) {
    int size = spots.size();
    double[] measured = new double[size];
    double[] slope = new double[size];
    double[] reading = new double[size];
    double[] low = new double[size];
    double[] high = new double[size];
    for (int k = 0; k < size; k++) {
      Spot spot = spots.get(k);
      measured[k] = spot.phaseErrorDeg();
      slope[k] = velocityFactor.degreesPerMetre(Frequency.ofHertz(spot.frequencyHz())) / 1e3;
      high[k] = spot.acceptanceDeg();
      low[k] = -high[k];
      reading[k] = Math.max(spot.readingStandardUncertaintyDeg(), LEAST_SHARE * high[k]);
    }
    return new Landing(measured, slope, reading, low, high);
  }

  /**
   * The limits as a later reading will leave them on average: it changes the differences between
   * frequencies by its own errors, and the lengths that suit all frequencies become fewer.
   */
  Landing afterNewReading() {
    double square = 0;
    for (int k = 0; k < size; k++) {
      square += 1 / (widthMm[k] * widthMm[k]);
    }
    double[] edge = new double[size];
    double[] spread = new double[size];
    for (int k = 0; k < size; k++) {
      edge[k] = edgeMm[2 * k + 1];
      spread[k] = Math.sqrt(Math.max(0, widthMm[k] * widthMm[k] - 1 / square));
    }
    double loweredMm = greatestMm(0) - meanOfLeast(edge, spread);
    for (int k = 0; k < size; k++) {
      edge[k] = -edgeMm[2 * k];
    }
    double raisedMm = -meanOfLeast(edge, spread) - leastMm(0);
    double[] low = new double[size];
    double[] high = new double[size];
    for (int k = 0; k < size; k++) {
      low[k] = lowDeg[k] + degPerMm[k] * raisedMm;
      high[k] = highDeg[k] - degPerMm[k] * loweredMm;
    }
    return new Landing(measuredDeg, degPerMm, readingDeg, low, high);
  }

  /** Mean of the least of independent normal values, by the midpoint rule. */
  private static double meanOfLeast(double[] mean, double[] sd) {
    double least = Double.POSITIVE_INFINITY;
    double widest = 0;
    for (int k = 0; k < mean.length; k++) {
      least = Math.min(least, mean[k]);
      widest = Math.max(widest, sd[k]);
    }
    if (widest == 0) {
      return least;
    }
    int steps = 60;
    double from = least - 6 * widest;
    double step = 9 * widest / steps;
    double sum = from;
    for (int i = 0; i < steps; i++) {
      double x = from + (i + 0.5) * step;
      double allAbove = 1;
      for (int k = 0; k < mean.length; k++) {
        allAbove *= sd[k] == 0 ? (mean[k] > x ? 1 : 0) : StandardNormal.cdf((mean[k] - x) / sd[k]);
      }
      sum += step * allAbove;
    }
    return sum;
  }

  /**
   * Least length after which all are measured within their limits, widened by a multiple of the
   * readings' uncertainties, if all else is as planned.
   */
  double leastMm(double coverage) {
    double least = Double.NEGATIVE_INFINITY;
    for (int k = 0; k < size; k++) {
      least = Math.max(least, edgeMm[2 * k] - coverage * widthMm[k]);
    }
    return least;
  }

  /** Greatest such length; below the least where no length suits all frequencies. */
  double greatestMm(double coverage) {
    double greatest = Double.POSITIVE_INFINITY;
    for (int k = 0; k < size; k++) {
      greatest = Math.min(greatest, edgeMm[2 * k + 1] + coverage * widthMm[k]);
    }
    return greatest;
  }

  /** The middle of the lengths that suit best. */
  double middleMm() {
    return (leastMm(0) + greatestMm(0)) / 2;
  }

  /** The length that brings frequency k to the middle of its limits. */
  double middleMm(int k) {
    return (edgeMm[2 * k] + edgeMm[2 * k + 1]) / 2;
  }

  /** Half the width of the limits of frequency k, as a length. */
  double halfWidthMm(int k) {
    return (edgeMm[2 * k + 1] - edgeMm[2 * k]) / 2;
  }

  /**
   * @param in probability that all lie within limits
   * @param notShort probability that none lies above
   */
  record Chance(double in, double notShort) {

    double tooShort() {
      return Math.max(0, 1 - notShort);
    }

    double tooLong() {
      return Math.max(0, notShort - in);
    }
  }

  /** The chances when a normally distributed length comes off. */
  Chance after(double meanMm, double sdMm) {
    return chance(meanMm, sdMm, edgeMm, widthMm);
  }

  /** The same for other edges, two for each width. */
  static Chance chance(double meanMm, double sdMm, double[] edgeMm, double[] widthMm) {
    LengthRule rule = LengthRule.of(meanMm, sdMm, edgeMm, widthMm);
    double in = 0;
    double notShort = 0;
    for (int i = 0; i < rule.at.length; i++) {
      double lengthMm = meanMm + sdMm * rule.at[i];
      double allIn = rule.weight[i];
      double noneShort = rule.weight[i];
      for (int k = 0; k < widthMm.length && noneShort > 0; k++) {
        double below = StandardNormal.cdf((edgeMm[2 * k + 1] - lengthMm) / widthMm[k]);
        double above = StandardNormal.cdf((edgeMm[2 * k] - lengthMm) / widthMm[k]);
        noneShort *= below;
        allIn *= Math.max(0, below - above);
      }
      in += allIn;
      notShort += noneShort;
    }
    return new Chance(Math.min(in, 1), Math.min(notShort, 1));
  }

  /** The probability that any lies above, alone. */
  double tooShortAfter(double meanMm, double sdMm) {
    LengthRule rule = LengthRule.of(meanMm, sdMm, edgeMm, widthMm);
    double notShort = 0;
    for (int i = 0; i < rule.at.length; i++) {
      double lengthMm = meanMm + sdMm * rule.at[i];
      double noneShort = rule.weight[i];
      for (int k = 0; k < size && noneShort > 0; k++) {
        noneShort *= StandardNormal.cdf((edgeMm[2 * k + 1] - lengthMm) / widthMm[k]);
      }
      notShort += noneShort;
    }
    return Math.max(0, 1 - notShort);
  }

  /**
   * Where the mean grows, and the standard deviation with it by a slope, the probability that all
   * lie within limits gains at the lower limits and loses at the upper ones. The logarithm of gain
   * over loss falls almost straight through 0 at the best mean, however flat the probability is
   * there; NaN where the probability is next to nothing, 0 where neither counts.
   */
  double balance(double meanMm, double sdMm, double sdSlope) {
    LengthRule rule = LengthRule.of(meanMm, sdMm, edgeMm, widthMm);
    double in = 0;
    double gain = 0;
    double loss = 0;
    for (int i = 0; i < rule.at.length; i++) {
      double lengthMm = meanMm + sdMm * rule.at[i];
      double allIn = rule.weight[i];
      double gains = 0;
      double losses = 0;
      for (int k = 0; k < size; k++) {
        double high = (edgeMm[2 * k + 1] - lengthMm) / widthMm[k];
        double low = (edgeMm[2 * k] - lengthMm) / widthMm[k];
        double within = StandardNormal.cdf(high) - StandardNormal.cdf(low);
        if (within <= 1e-11) {
          allIn = 0;
          break;
        }
        allIn *= within;
        gains += StandardNormal.density(low) / (widthMm[k] * within);
        losses += StandardNormal.density(high) / (widthMm[k] * within);
      }
      double weight = allIn * (1 + sdSlope * rule.at[i]);
      in += allIn;
      gain += weight * gains;
      loss += weight * losses;
    }
    if (in == 0) {
      return Double.NaN;
    }
    return gain == loss ? 0 : Math.log(gain / loss);
  }
}
