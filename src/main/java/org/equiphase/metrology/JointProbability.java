package org.equiphase.metrology;

import java.util.stream.DoubleStream;
import org.equiphase.rf.Require;

/**
 * The integral of {@link Conformity#jointProbability}, by adaptive Gauss–Kronrod quadrature over
 * panels that begin and end where one of the errors passes its limit.
 */
final class JointProbability {

  /** Beyond this many standard deviations a normal quantity lies with a probability of 1e-19. */
  private static final double REACH = 9;

  /** Far below the promised 1e-9, since the panels' errors add. */
  private static final double PANEL_ACCURACY = 1e-12;

  private static final int MOST_HALVINGS = 40;

  /** Seven-point Gauss and fifteen-point Kronrod rule on [−1, 1] (QUADPACK, routine QK15). */
  private static final double[] NODE = {
    0.9914553711208126,
    0.9491079123427585,
    0.8648644233597691,
    0.7415311855993945,
    0.5860872354676911,
    0.4058451513773972,
    0.20778495500789848,
    0
  };

  private static final double[] KRONROD = {
    0.022935322010529224,
    0.06309209262997856,
    0.10479001032225019,
    0.14065325971552592,
    0.1690047266392679,
    0.19035057806478542,
    0.20443294007529889,
    0.20948214108472782
  };

  private static final double[] GAUSS = {
    0, 0.1294849661688697,
    0, 0.27970539148927664,
    0, 0.3818300505051189,
    0, 0.4179591836734694
  };

  private final double[] mean;
  private final double[] slope;
  private final double[] independent;
  private final double[] lower;
  private final double[] upper;

  JointProbability(
      double[] mean,
      double common,
      double[] sensitivity,
      double[] independent,
      double[] lower,
      double[] upper) {
    Require.notNegative("commonStandardDeviation", common);
    length("sensitivity", sensitivity, mean);
    length("independentStandardDeviation", independent, mean);
    length("lower", lower, mean);
    length("upper", upper, mean);
    this.mean = mean.clone();
    this.slope = new double[mean.length];
    this.independent = independent.clone();
    this.lower = lower.clone();
    this.upper = upper.clone();
    for (int k = 0; k < mean.length; k++) {
      String at = "[" + k + "]";
      Require.finite("mean" + at, mean[k]);
      Require.finite("sensitivity" + at, sensitivity[k]);
      Require.notNegative("independentStandardDeviation" + at, independent[k]);
      slope[k] = Require.finiteResult("sensitivity" + at, common * sensitivity[k]);
      notNaN("lower" + at, lower[k]);
      notNaN("upper" + at, upper[k]);
    }
  }

  double value() {
    if (DoubleStream.of(slope).allMatch(s -> s == 0)) {
      return productAt(0);
    }
    double[] ends = panels();
    double sum = 0;
    for (int i = 1; i < ends.length; i++) {
      sum += integral(ends[i - 1], ends[i], 0);
    }
    return Math.max(0, Math.min(1, sum));
  }

  /** The probability of all, given z standard deviations of the common part. */
  private double productAt(double z) {
    double product = 1;
    for (int k = 0; k < mean.length && product > 0; k++) {
      product *= Normal.inside(mean[k] + slope[k] * z, independent[k], lower[k], upper[k]);
    }
    return product;
  }

  /** Ends of panels: within each the integrand is smooth on the panel's own scale. */
  private double[] panels() {
    DoubleStream.Builder ends = DoubleStream.builder();
    ends.add(-REACH).add(0).add(REACH);
    for (int k = 0; k < mean.length; k++) {
      if (slope[k] != 0) {
        addPassage(ends, (lower[k] - mean[k]) / slope[k], independent[k] / Math.abs(slope[k]));
        addPassage(ends, (upper[k] - mean[k]) / slope[k], independent[k] / Math.abs(slope[k]));
      }
    }
    return ends.build().filter(z -> z >= -REACH && z <= REACH).sorted().distinct().toArray();
  }

  private static void addPassage(DoubleStream.Builder ends, double at, double width) {
    ends.add(at).add(at - REACH * width).add(at + REACH * width);
  }

  private double integral(double from, double to, int halvings) {
    double middle = (from + to) / 2;
    double half = (to - from) / 2;
    double gauss = 0;
    double kronrod = 0;
    for (int i = 0; i < NODE.length; i++) {
      double sum = weighted(middle + half * NODE[i]);
      if (NODE[i] > 0) {
        sum += weighted(middle - half * NODE[i]);
      }
      gauss += GAUSS[i] * sum;
      kronrod += KRONROD[i] * sum;
    }
    if (half * Math.abs(kronrod - gauss) <= PANEL_ACCURACY || halvings == MOST_HALVINGS) {
      return half * kronrod;
    }
    return integral(from, middle, halvings + 1) + integral(middle, to, halvings + 1);
  }

  private double weighted(double z) {
    return Math.exp(-z * z / 2) / Math.sqrt(2 * Math.PI) * productAt(z);
  }

  private static void length(String field, double[] values, double[] mean) {
    if (values.length != mean.length) {
      throw Require.refuse(
          field, "must hold " + mean.length + " values as mean does, not " + values.length);
    }
  }

  private static void notNaN(String field, double value) {
    if (Double.isNaN(value)) {
      throw Require.refuse(field, "must be a number or infinite, not NaN");
    }
  }
}
