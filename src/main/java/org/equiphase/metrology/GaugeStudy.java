package org.equiphase.metrology;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.equiphase.rf.Require;

/**
 * A crossed gauge study: every appraiser reads every part several times. Judged by average and
 * range or by analysis of variance (AIAG, Measurement Systems Analysis, 4th edition, chapter
 * III-B); the second sees persons who differ from part to part, the first doesn't.
 */
public final class GaugeStudy {

  /** Interaction above this p-value is taken for chance and pooled with repeatability. */
  public static final double USUAL_POOLING_P = 0.25;

  private final double[][][] readings;

  private GaugeStudy(double[][][] readings) {
    this.readings = readings;
  }

  /**
   * A study from its readings.
   *
   * @param readings by part, appraiser and trial: 2 to 1000 parts, 1 to 100 appraisers, 2 to 100
   *     trials, the same for all, all finite
   * @throws org.equiphase.rf.InvalidQuantityException for {@code readings} that break these rules
   */
  public static GaugeStudy of(double[][][] readings) {
    count("readings", "parts", readings.length, 2, 1000);
    double[][][] copy = new double[readings.length][][];
    for (int p = 0; p < readings.length; p++) {
      String part = "readings[" + p + "]";
      count(part, "appraisers", readings[p].length, 1, 100);
      same(part, "appraisers", readings[p].length, readings[0].length);
      copy[p] = new double[readings[p].length][];
      for (int o = 0; o < readings[p].length; o++) {
        String cell = part + "[" + o + "]";
        count(cell, "trials", readings[p][o].length, 2, 100);
        same(cell, "trials", readings[p][o].length, readings[0][0].length);
        copy[p][o] = readings[p][o].clone();
        for (int t = 0; t < copy[p][o].length; t++) {
          Require.within(cell + "[" + t + "]", copy[p][o][t], -1e100, 1e100);
        }
      }
    }
    return new GaugeStudy(copy);
  }

  public int parts() {
    return readings.length;
  }

  public int appraisers() {
    return readings[0].length;
  }

  public int trials() {
    return readings[0][0].length;
  }

  /** The study by average and range. */
  public RangeGauge byRange() {
    RangeConstants ofTrials = RangeConstants.of(trials());
    double[] partMeans = new double[parts()];
    double[] appraiserMeans = new double[appraisers()];
    double[] appraiserRanges = new double[appraisers()];
    for (int p = 0; p < parts(); p++) {
      for (int o = 0; o < appraisers(); o++) {
        double mean = mean(readings[p][o]);
        partMeans[p] += mean / appraisers();
        appraiserMeans[o] += mean / parts();
        appraiserRanges[o] += range(readings[p][o]) / parts();
      }
    }
    double averageRange = mean(appraiserRanges);
    double upperLimit = averageRange * ofTrials.upperLimitFactor();
    double equipment = averageRange / ofTrials.d2();
    double spread = range(appraiserMeans);
    double seen = appraisers() == 1 ? 0 : spread / RangeConstants.of(appraisers()).d2Star();
    double appraiser = rootOrZero(seen * seen - equipment * equipment / (parts() * trials()));
    double partRange = range(partMeans);
    return new RangeGauge(
        new GaugeVariation(
            equipment, appraiser, 0, partRange / RangeConstants.of(parts()).d2Star()),
        Arrays.stream(appraiserRanges).boxed().toList(),
        averageRange,
        upperLimit,
        beyond(upperLimit),
        spread,
        partRange);
  }

  /** The study by analysis of variance, interaction pooled at p above 0.25. */
  public AnovaGauge byAnova() {
    return byAnova(USUAL_POOLING_P);
  }

  /**
   * The study by analysis of variance, two-way with interaction, all effects random.
   *
   * @param poolingP interaction with a p-value above this is pooled with repeatability, 0 to 1; 1
   *     pools never
   * @throws org.equiphase.rf.InvalidQuantityException for another {@code poolingP}
   */
  public AnovaGauge byAnova(double poolingP) {
    return Anova.of(readings, Require.within("poolingP", poolingP, 0, 1));
  }

  private List<RangeGauge.Cell> beyond(double upperLimit) {
    List<RangeGauge.Cell> cells = new ArrayList<>();
    for (int p = 0; p < parts(); p++) {
      for (int o = 0; o < appraisers(); o++) {
        double range = range(readings[p][o]);
        if (range > upperLimit) {
          cells.add(new RangeGauge.Cell(p, o, range));
        }
      }
    }
    return List.copyOf(cells);
  }

  static double rootOrZero(double variance) {
    return Math.sqrt(Math.max(0, variance));
  }

  private static double mean(double[] values) {
    return Arrays.stream(values).average().orElseThrow();
  }

  private static double range(double[] values) {
    return Arrays.stream(values).max().orElseThrow() - Arrays.stream(values).min().orElseThrow();
  }

  private static void count(String field, String what, int count, int least, int most) {
    if (count < least || count > most) {
      throw Require.refuse(
          field, "must hold " + least + " to " + most + " " + what + ", not " + count);
    }
  }

  private static void same(String field, String what, int count, int first) {
    if (count != first) {
      throw Require.refuse(field, "holds " + count + " " + what + " where the first has " + first);
    }
  }
}
