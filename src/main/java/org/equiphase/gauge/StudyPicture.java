package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.List;

/**
 * Two pictures of a study in drawing units: each value by part about the part's mean, a mark per
 * appraiser; and the range of each part's trials per appraiser with its control limit.
 */
record StudyPicture(
    double width,
    double height,
    double zeroY,
    double scaleDeg,
    List<Mark> values,
    double rangeLimitY,
    double rangeScaleDeg,
    List<Mark> ranges,
    List<String> labels) {

  private static final double LEFT = 64;
  private static final double COLUMN = 44;
  private static final double TOP = 16;
  private static final double PLOT = 150;

  /** A mark; {@code shape} counts the appraisers. */
  record Mark(double x, double y, int shape, String label) {}

  static StudyPicture of(Study study, Analysis analysis) {
    double[][][] values = analysis.valuesDeg();
    double most = 1e-9;
    double mostRange = Math.max(analysis.range().rangeUpperLimit(), 1e-9);
    double[] means = new double[values.length];
    for (int p = 0; p < values.length; p++) {
      for (double[] trials : values[p]) {
        for (double value : trials) {
          means[p] += value / values[p].length / trials.length;
        }
        mostRange = Math.max(mostRange, range(trials));
      }
      for (double[] trials : values[p]) {
        for (double value : trials) {
          most = Math.max(most, Math.abs(value - means[p]));
        }
      }
    }
    List<Mark> marks = new ArrayList<>();
    List<Mark> ranges = new ArrayList<>();
    for (int p = 0; p < values.length; p++) {
      int appraisers = values[p].length;
      for (int a = 0; a < appraisers; a++) {
        double x = LEFT + COLUMN * (p + (a + 1.0) / (appraisers + 1));
        String label = study.parts().get(p) + ", " + study.appraisers().get(a);
        for (double value : values[p][a]) {
          double y = TOP + PLOT / 2 * (1 - (value - means[p]) / (1.1 * most));
          marks.add(new Mark(x, y, a, label));
        }
        double y = TOP + PLOT * (1 - range(values[p][a]) / (1.1 * mostRange));
        ranges.add(new Mark(x, y, a, label));
      }
    }
    return new StudyPicture(
        LEFT + COLUMN * values.length + 12,
        TOP + PLOT + 30,
        TOP + PLOT / 2,
        1.1 * most,
        marks,
        TOP + PLOT * (1 - analysis.range().rangeUpperLimit() / (1.1 * mostRange)),
        1.1 * mostRange,
        ranges,
        study.parts());
  }

  /** Where a part's column has its middle. */
  public double middle(int part) {
    return LEFT + COLUMN * (part + 0.5);
  }

  private static double range(double[] trials) {
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (double value : trials) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    return high - low;
  }
}
