package org.equiphase.metrology;

/** Published gauge studies, by part, appraiser and trial. */
public final class GaugeStudies {
  private GaugeStudies() {}

  /** AIAG, Measurement Systems Analysis, 4th edition, chapter III-B: 10 parts, 3 × 3. */
  public static double[][][] manual() {
    return byPart(
        new double[][][] {
          {
            {0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36},
            {0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25},
            {0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31}
          },
          {
            {0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68},
            {0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62},
            {0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50}
          },
          {
            {0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49},
            {-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77},
            {-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16}
          }
        });
  }

  /** Houf and Berman 1988: thermal performance of 10 power modules, 3 operators × 3. */
  public static double[][][] modules() {
    return new double[][][] {
      {{37, 38, 37}, {41, 41, 40}, {41, 42, 41}},
      {{42, 41, 43}, {42, 42, 42}, {43, 42, 43}},
      {{30, 31, 31}, {31, 31, 31}, {29, 30, 28}},
      {{42, 43, 42}, {43, 43, 43}, {42, 42, 42}},
      {{28, 30, 29}, {29, 30, 29}, {31, 29, 29}},
      {{42, 42, 43}, {45, 45, 45}, {44, 46, 45}},
      {{25, 26, 27}, {28, 28, 30}, {29, 27, 27}},
      {{40, 40, 40}, {43, 42, 42}, {43, 43, 41}},
      {{25, 25, 25}, {27, 29, 28}, {26, 26, 26}},
      {{35, 34, 34}, {35, 35, 34}, {35, 34, 35}}
    };
  }

  /** NIST StRD, SiRstv: silicon resistivity by 5 instruments, 5 times each; from memory. */
  public static double[][][] resistivity() {
    return new double[][][] {
      {{196.3052, 196.1240, 196.1890, 196.2569, 196.3403}},
      {{196.3042, 196.3825, 196.1669, 196.3257, 196.0422}},
      {{196.1303, 196.2005, 196.2889, 196.0343, 196.1811}},
      {{196.2795, 196.1748, 196.1494, 196.1485, 195.9885}},
      {{196.2119, 196.1051, 196.1850, 196.0052, 196.2090}}
    };
  }

  private static double[][][] byPart(double[][][] byAppraiserAndTrial) {
    int parts = byAppraiserAndTrial[0][0].length;
    int appraisers = byAppraiserAndTrial.length;
    int trials = byAppraiserAndTrial[0].length;
    double[][][] byPart = new double[parts][appraisers][trials];
    for (int p = 0; p < parts; p++) {
      for (int o = 0; o < appraisers; o++) {
        for (int t = 0; t < trials; t++) {
          byPart[p][o][t] = byAppraiserAndTrial[o][t][p];
        }
      }
    }
    return byPart;
  }
}
