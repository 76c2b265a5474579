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
  final double[] acceptDeg;
  final double[] readingDeg;

  private final double[] edgeMm;
  private final double[] widthMm;

  Landing(List<Spot> spots, double velocityFactor) {
    size = spots.size();
    measuredDeg = new double[size];
    degPerMm = new double[size];
    acceptDeg = new double[size];
    readingDeg = new double[size];
    edgeMm = new double[2 * size];
    widthMm = new double[size];
    for (int k = 0; k < size; k++) {
      Spot spot = spots.get(k);
      measuredDeg[k] = spot.phaseErrorDeg();
      degPerMm[k] =
          VelocityFactor.of(velocityFactor).degreesPerMetre(Frequency.ofHertz(spot.frequencyHz()))
              / 1e3;
      acceptDeg[k] = spot.acceptanceDeg();
      readingDeg[k] = Math.max(spot.readingStandardUncertaintyDeg(), LEAST_SHARE * acceptDeg[k]);
      edgeMm[2 * k] = (-acceptDeg[k] - measuredDeg[k]) / degPerMm[k];
      edgeMm[2 * k + 1] = (acceptDeg[k] - measuredDeg[k]) / degPerMm[k];
      widthMm[k] = readingDeg[k] / degPerMm[k];
    }
  }

  /** Least length after which all are measured within limits, were there no other errors. */
  double leastMm() {
    double least = Double.NEGATIVE_INFINITY;
    for (int k = 0; k < size; k++) {
      least = Math.max(least, edgeMm[2 * k]);
    }
    return least;
  }

  /** Greatest length after which all are measured within limits; below the least if none is. */
  double greatestMm() {
    double greatest = Double.POSITIVE_INFINITY;
    for (int k = 0; k < size; k++) {
      greatest = Math.min(greatest, edgeMm[2 * k + 1]);
    }
    return greatest;
  }

  /** The length that brings frequency k to zero error. */
  double zeroMm(int k) {
    return -measuredDeg[k] / degPerMm[k];
  }

  LengthRule rule(double meanMm, double sdMm) {
    return LengthRule.of(meanMm, sdMm, edgeMm, widthMm);
  }

  /**
   * @param in probability that all lie within limits
   * @param notShort probability that none lies above
   * @param slopePerMm derivative of {@code in}, where the mean moves by 1 and the standard
   *     deviation by a given slope
   */
  record Chance(double in, double notShort, double slopePerMm) {

    double tooShort() {
      return Math.max(0, 1 - notShort);
    }

    double tooLong() {
      return Math.max(0, notShort - in);
    }
  }

  /** The chances when a normally distributed length comes off. */
  Chance after(double meanMm, double sdMm, double sdSlope) {
    LengthRule rule = rule(meanMm, sdMm);
    double in = 0;
    double notShort = 0;
    double slope = 0;
    for (int i = 0; i < rule.at.length; i++) {
      double lengthMm = meanMm + sdMm * rule.at[i];
      double allIn = rule.weight[i];
      double noneShort = rule.weight[i];
      double steepness = 0;
      for (int k = 0; k < size && noneShort > 0; k++) {
        double high = (edgeMm[2 * k + 1] - lengthMm) / widthMm[k];
        double low = (edgeMm[2 * k] - lengthMm) / widthMm[k];
        double below = StandardNormal.cdf(high);
        double within = Math.max(0, below - StandardNormal.cdf(low));
        noneShort *= below;
        allIn *= within;
        if (allIn > 0) {
          steepness +=
              (StandardNormal.density(low) - StandardNormal.density(high)) / (widthMm[k] * within);
        }
      }
      in += allIn;
      notShort += noneShort;
      if (allIn > 0) {
        slope += allIn * steepness * (1 + sdSlope * rule.at[i]);
      }
    }
    return new Chance(in, notShort, slope);
  }
}
