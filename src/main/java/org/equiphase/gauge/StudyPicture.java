package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Two pictures of a study in drawing units: each value by part about the part's mean, a mark per
 * appraiser with a line at their mean; and the range of each part's trials per appraiser with its
 * control limit.
 *
 * @param farthest the value farthest from its part's mean
 */
record StudyPicture(
    double width,
    double height,
    double columnWidth,
    double zeroY,
    double scaleDeg,
    List<Mark> values,
    List<Mean> means,
    Point farthest,
    double rangeLimitY,
    double rangeScaleDeg,
    List<Mark> ranges) {

  private static final double LEFT = 64;
  private static final double SLOT = 8;
  private static final double LETTER = 7.5;
  private static final double TOP = 16;
  private static final double PLOT = 200;

  /** A mark; {@code appraiser} counts from 1. */
  record Mark(double x, double y, int appraiser) {}

  /** An appraiser's mean of a part. */
  record Mean(double fromX, double toX, double y) {}

  /** A value by its part and appraiser, counted from 0. */
  record Point(int part, int appraiser, double departureDeg) {}

  static StudyPicture of(Study study, Analysis analysis) {
    double[][][] values = analysis.valuesDeg();
    Point farthest = new Point(0, 0, 0);
    double mostRange = Math.max(analysis.range().rangeUpperLimit(), 1e-9);
    double[] means = new double[values.length];
    for (int p = 0; p < values.length; p++) {
      means[p] = Arrays.stream(values[p]).flatMapToDouble(Arrays::stream).average().orElseThrow();
      for (int a = 0; a < values[p].length; a++) {
        mostRange = Math.max(mostRange, range(values[p][a]));
        for (double value : values[p][a]) {
          if (Math.abs(value - means[p]) > Math.abs(farthest.departureDeg())) {
            farthest = new Point(p, a, value - means[p]);
          }
        }
      }
    }
    double scaleDeg = 1.1 * Math.max(Math.abs(farthest.departureDeg()), 1e-9);
    double rangeScaleDeg = 1.1 * mostRange;
    int trials = study.trials();
    int longest = study.parts().stream().mapToInt(String::length).max().orElseThrow();
    double column =
        Math.max(SLOT * ((trials + 1) * study.appraisers().size() + 1), LETTER * longest + SLOT);
    double group = (column - SLOT) / study.appraisers().size();
    List<Mark> marks = new ArrayList<>();
    List<Mean> lines = new ArrayList<>();
    List<Mark> ranges = new ArrayList<>();
    for (int p = 0; p < values.length; p++) {
      for (int a = 0; a < values[p].length; a++) {
        double left = LEFT + column * p + SLOT + group * a;
        for (int t = 0; t < trials; t++) {
          double y = TOP + PLOT / 2 * (1 - (values[p][a][t] - means[p]) / scaleDeg);
          marks.add(new Mark(left + SLOT * (t + 0.5), y, a + 1));
        }
        double mean = Arrays.stream(values[p][a]).average().orElseThrow() - means[p];
        lines.add(new Mean(left, left + SLOT * trials, TOP + PLOT / 2 * (1 - mean / scaleDeg)));
        double y = TOP + PLOT * (1 - range(values[p][a]) / rangeScaleDeg);
        ranges.add(new Mark(left + SLOT * trials / 2, y, a + 1));
      }
    }
    return new StudyPicture(
        LEFT + column * values.length + 2,
        TOP + PLOT + 30,
        column,
        TOP + PLOT / 2,
        scaleDeg,
        marks,
        lines,
        farthest,
        TOP + PLOT * (1 - analysis.range().rangeUpperLimit() / rangeScaleDeg),
        rangeScaleDeg,
        ranges);
  }

  /** Where a part's column begins. */
  public double leftOf(int part) {
    return LEFT + columnWidth * part;
  }

  /** The lower edge of the drawing. */
  public double bottom() {
    return TOP + PLOT;
  }

  private static double range(double[] trials) {
    return Arrays.stream(trials).max().orElseThrow() - Arrays.stream(trials).min().orElseThrow();
  }
}
