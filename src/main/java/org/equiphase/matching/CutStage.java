package org.equiphase.matching;

import org.equiphase.matching.Landing.Chance;

/**
 * A cut and the reading after it. At frequency k the true error is x_k = offset_k + slope_k·D +
 * a_k, with D the length off, common, and a_k of its own; the reading is x_k plus a reading error.
 * Given D the frequencies are independent, so that all follows from averages over D.
 */
final class CutStage {

  private final Landing landing;
  private final int size;
  private final double[] offsetDeg;

  /** Standard deviations of a_k, and of a_k plus the reading error. */
  private final double[] ownDeg;

  private final double[] readDeg;

  /** Another cut is due if a reading lies below its lower limit and none above this. */
  private final double[] roomDeg;

  private final BivariateNormal[] joint;

  /** Moments of the reading about the mean of x_k, where another cut is due. */
  private final double[] deviation;

  private final double[] squaredDeviation;
  private double meanMm;
  private double sdMm;

  /** Probability in tolerance. */
  double in;

  /** Probability too short. */
  double tooShort;

  /** Probability that another cut is due. */
  double again;

  private double inAndAgain;
  private double tooShortAndAgain;

  /** The first cut, after the reading that it was planned from. */
  CutStage(Landing landing) {
    this(landing, landing.measuredDeg, landing.readingDeg);
  }

  private CutStage(Landing landing, double[] offsetDeg, double[] ownDeg) {
    this.landing = landing;
    this.offsetDeg = offsetDeg;
    this.ownDeg = ownDeg;
    size = landing.size;
    readDeg = new double[size];
    roomDeg = new double[size];
    deviation = new double[size];
    squaredDeviation = new double[size];
    joint = new BivariateNormal[size];
    for (int k = 0; k < size; k++) {
      readDeg[k] = Math.hypot(ownDeg[k], landing.readingDeg[k]);
      joint[k] = new BivariateNormal(ownDeg[k] / readDeg[k]);
    }
  }

  double inAndStop() {
    return Math.max(0, in - inAndAgain);
  }

  double tooShortAndStop() {
    return Math.max(0, tooShort - tooShortAndAgain);
  }

  /** Works out the chances when D is normal and this is the last cut. */
  void finish(double lengthMm, double lengthSdMm) {
    double[] edges = new double[2 * size];
    double[] widths = new double[size];
    for (int k = 0; k < size; k++) {
      double slope = landing.degPerMm[k];
      widths[k] = ownDeg[k] / slope;
      edges[2 * k] = (landing.lowDeg[k] - offsetDeg[k]) / slope;
      edges[2 * k + 1] = (landing.highDeg[k] - offsetDeg[k]) / slope;
    }
    Chance chance = Landing.chance(lengthMm, lengthSdMm, edges, widths);
    in = chance.in();
    tooShort = chance.tooShort();
  }

  /** Works out the chances when D is normal and another cut may follow. */
  void measure(double lengthMm, double lengthSdMm, LaterCut next) {
    meanMm = lengthMm;
    sdMm = lengthSdMm;
    tooShort = 1;
    double[] edges = new double[4 * size];
    double[] widths = new double[2 * size];
    for (int k = 0; k < size; k++) {
      double slope = landing.degPerMm[k];
      roomDeg[k] =
          landing.highDeg[k]
              - next.coverage() * Math.hypot(landing.readingDeg[k], slope * next.sdMm())
              - slope * next.stepMm();
      widths[2 * k] = ownDeg[k] / slope;
      widths[2 * k + 1] = readDeg[k] / slope;
      edges[4 * k] = (landing.lowDeg[k] - offsetDeg[k]) / slope;
      edges[4 * k + 1] = (landing.highDeg[k] - offsetDeg[k]) / slope;
      edges[4 * k + 2] = edges[4 * k];
      edges[4 * k + 3] = (roomDeg[k] - offsetDeg[k]) / slope;
    }
    LengthRule rule = LengthRule.of(meanMm, sdMm, edges, widths, LengthRule.COARSE);
    for (int i = 0; i < rule.at.length; i++) {
      add(meanMm + sdMm * rule.at[i], rule.weight[i]);
    }
  }

  /**
   * "Another cut is due" is "no reading above the room" less "no reading above the room and none
   * below its lower limit"; so each of its probabilities is a product less a product.
   */
  private void add(double lengthMm, double weight) {
    double allIn = 1;
    double noneShort = 1;
    double open = 1;
    double closed = 1;
    double inOpen = 1;
    double inClosed = 1;
    double noneShortOpen = 1;
    double noneShortClosed = 1;
    for (int k = 0; k < size; k++) {
      double mean = offsetDeg[k] + landing.degPerMm[k] * lengthMm;
      double high = (landing.highDeg[k] - mean) / ownDeg[k];
      double low = (landing.lowDeg[k] - mean) / ownDeg[k];
      double readHigh = (roomDeg[k] - mean) / readDeg[k];
      double readLow = Math.min(readHigh, (landing.lowDeg[k] - mean) / readDeg[k]);
      double below = StandardNormal.cdf(high);
      allIn *= Math.max(0, below - StandardNormal.cdf(low));
      noneShort *= below;
      double readBelow = StandardNormal.cdf(readHigh);
      open *= readBelow;
      closed *= Math.max(0, readBelow - StandardNormal.cdf(readLow));
      double highHigh = joint[k].cdf(high, readHigh);
      double highLow = joint[k].cdf(high, readLow);
      noneShortOpen *= highHigh;
      noneShortClosed *= Math.max(0, highHigh - highLow);
      double inHigh = Math.max(0, highHigh - joint[k].cdf(low, readHigh));
      inOpen *= inHigh;
      inClosed *= Math.max(0, inHigh - Math.max(0, highLow - joint[k].cdf(low, readLow)));
    }
    double due = Math.max(0, open - closed);
    double dueNoneShort = Math.max(0, noneShortOpen - noneShortClosed);
    in += weight * allIn;
    tooShort -= weight * noneShort;
    again += weight * due;
    inAndAgain += weight * Math.max(0, inOpen - inClosed);
    tooShortAndAgain += weight * Math.max(0, due - dueNoneShort);
    if (weight * due > 1e-14) {
      addMoments(lengthMm, weight * open, weight * closed);
    }
  }

  /** Moments of truncated normal distributions. */
  private void addMoments(double lengthMm, double open, double closed) {
    for (int k = 0; k < size; k++) {
      double mean = offsetDeg[k] + landing.degPerMm[k] * lengthMm;
      double high = (roomDeg[k] - mean) / readDeg[k];
      double low = Math.min(high, (landing.lowDeg[k] - mean) / readDeg[k]);
      double atHigh = StandardNormal.density(high);
      double atLow = StandardNormal.density(low);
      double below = StandardNormal.cdf(high);
      double between = below - StandardNormal.cdf(low);
      double first = -open * atHigh / below;
      double second = open * (1 - high * atHigh / below);
      if (between > 1e-12) {
        first -= closed * (atLow - atHigh) / between;
        second -= closed * (1 + (low * atLow - high * atHigh) / between);
      }
      deviation[k] += readDeg[k] * first;
      squaredDeviation[k] += readDeg[k] * readDeg[k] * second;
    }
  }

  /**
   * The next cut, where one is due.
   *
   * @param cutMm its mean length
   * @param totalMm mean of the total length off that the reading and this cut amount to
   * @param totalSdMm its standard deviation, from rounding to the step
   */
  record Planned(double cutMm, double totalMm, double totalSdMm) {}

  /** The next cut, averaged over what the reading can show as the total length off. */
  Planned plan(LaterCut next, double leftMm) {
    double square = 0;
    double product = 0;
    for (int k = 0; k < size; k++) {
      double share = landing.degPerMm[k] / (readDeg[k] * readDeg[k]);
      square += share * landing.degPerMm[k];
      product += share * (offsetDeg[k] - landing.measuredDeg[k]);
    }
    double mean = meanMm + product / square;
    double sd = Math.sqrt(sdMm * sdMm + 1 / square);
    int steps = 120;
    double weights = 0;
    double cuts = 0;
    double totals = 0;
    double squares = 0;
    double origin = next.bestMm();
    for (int i = 0; i < steps; i++) {
      double z = 10.0 * (i + 0.5) / steps - 5;
      double read = mean + sd * z;
      double weight = Math.exp(-z * z / 2) * due(read, 1 / square);
      if (weight > 0) {
        double cut = Math.min(next.cutMm(read), leftMm);
        double total = read + cut - origin;
        weights += weight;
        cuts += weight * cut;
        totals += weight * total;
        squares += weight * total * total;
      }
    }
    if (weights == 0) {
      return new Planned(0, mean, 0);
    }
    double total = totals / weights;
    return new Planned(
        cuts / weights, origin + total, Math.sqrt(Math.max(0, squares / weights - total * total)));
  }

  /** Probability that another cut is due where the reading shows a total length off. */
  private double due(double readMm, double commonSquareMm) {
    double open = 1;
    double closed = 1;
    for (int k = 0; k < size; k++) {
      double slope = landing.degPerMm[k];
      double mean = landing.measuredDeg[k] + slope * readMm;
      double sd =
          Math.sqrt(
              Math.max(
                  1e-12 * readDeg[k] * readDeg[k],
                  readDeg[k] * readDeg[k] - slope * slope * commonSquareMm));
      double high = (roomDeg[k] - mean) / sd;
      double low = Math.min(high, (landing.lowDeg[k] - mean) / sd);
      double below = StandardNormal.cdf(high);
      open *= below;
      closed *= Math.max(0, below - StandardNormal.cdf(low));
    }
    return Math.max(0, open - closed);
  }

  /**
   * The stage after the next cut. It starts from the reading that asked for the cut: the true error
   * is that reading less its error, whose mean and variance follow from those of the reading.
   */
  CutStage afterReading(Landing later) {
    double[] offset = new double[size];
    double[] own = new double[size];
    for (int k = 0; k < size; k++) {
      double ownSquare = ownDeg[k] * ownDeg[k];
      double readingSquare = landing.readingDeg[k] * landing.readingDeg[k];
      double share = readingSquare / (ownSquare + readingSquare);
      double mean = deviation[k] / again;
      double variance = Math.max(0, squaredDeviation[k] / again - mean * mean);
      offset[k] = landing.measuredDeg[k] - share * mean;
      own[k] = Math.sqrt(share * ownSquare + share * share * variance);
    }
    return new CutStage(later, offset, own);
  }
}
