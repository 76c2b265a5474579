package org.equiphase.metrology;

import org.apache.commons.statistics.distribution.FDistribution;
import org.equiphase.metrology.AnovaGauge.Source;
import org.jspecify.annotations.Nullable;

/** Balanced two-way analysis of variance with interaction, all effects random. */
final class Anova {

  private final int parts;
  private final int appraisers;
  private final int trials;
  private final double partSquares;
  private final double appraiserSquares;
  private final double interactionSquares;
  private final double equipmentSquares;

  private Anova(double[][][] readings) {
    parts = readings.length;
    appraisers = readings[0].length;
    trials = readings[0][0].length;
    double[] partMean = new double[parts];
    double[] appraiserMean = new double[appraisers];
    double[][] cellMean = new double[parts][appraisers];
    double grandMean = 0;
    for (int p = 0; p < parts; p++) {
      for (int o = 0; o < appraisers; o++) {
        for (double reading : readings[p][o]) {
          cellMean[p][o] += reading / trials;
        }
        partMean[p] += cellMean[p][o] / appraisers;
        appraiserMean[o] += cellMean[p][o] / parts;
        grandMean += cellMean[p][o] / appraisers / parts;
      }
    }
    double part = 0;
    double appraiser = 0;
    double interaction = 0;
    double equipment = 0;
    for (int p = 0; p < parts; p++) {
      part += square(partMean[p] - grandMean) * appraisers * trials;
      for (int o = 0; o < appraisers; o++) {
        interaction += square(cellMean[p][o] - partMean[p] - appraiserMean[o] + grandMean) * trials;
        for (double reading : readings[p][o]) {
          equipment += square(reading - cellMean[p][o]);
        }
      }
    }
    for (int o = 0; o < appraisers; o++) {
      appraiser += square(appraiserMean[o] - grandMean) * parts * trials;
    }
    partSquares = part;
    appraiserSquares = appraiser;
    interactionSquares = interaction;
    equipmentSquares = equipment;
  }

  static AnovaGauge of(double[][][] readings, double poolingP) {
    Anova anova = new Anova(readings);
    return anova.appraisers == 1 ? anova.oneAppraiser() : anova.crossed(poolingP);
  }

  private AnovaGauge oneAppraiser() {
    Source equipment = new Source(equipmentSquares, parts * (trials - 1), null, null);
    return new AnovaGauge(
        tested(partSquares, parts - 1, equipment),
        null,
        null,
        equipment,
        total(),
        false,
        variation(equipment.meanSquare(), equipment.meanSquare()));
  }

  private AnovaGauge crossed(double poolingP) {
    Source equipment = new Source(equipmentSquares, parts * appraisers * (trials - 1), null, null);
    Source interaction = tested(interactionSquares, (parts - 1) * (appraisers - 1), equipment);
    boolean pooled = interaction.p() == null || interaction.p() > poolingP;
    Source against =
        pooled
            ? new Source(
                interactionSquares + equipmentSquares,
                interaction.degreesOfFreedom() + equipment.degreesOfFreedom(),
                null,
                null)
            : interaction;
    double repeatability = pooled ? against.meanSquare() : equipment.meanSquare();
    return new AnovaGauge(
        tested(partSquares, parts - 1, against),
        tested(appraiserSquares, appraisers - 1, against),
        interaction,
        equipment,
        total(),
        pooled,
        variation(repeatability, against.meanSquare()));
  }

  /** Components from the expected mean squares; against is what parts and appraisers rest on. */
  private GaugeVariation variation(double repeatability, double against) {
    double appraiser = appraisers == 1 ? 0 : appraiserSquares / (appraisers - 1) - against;
    return new GaugeVariation(
        Math.sqrt(repeatability),
        GaugeStudy.rootOrZero(appraiser / (parts * trials)),
        GaugeStudy.rootOrZero((against - repeatability) / trials),
        GaugeStudy.rootOrZero((partSquares / (parts - 1) - against) / (appraisers * trials)));
  }

  private Source total() {
    return new Source(
        partSquares + appraiserSquares + interactionSquares + equipmentSquares,
        parts * appraisers * trials - 1,
        null,
        null);
  }

  private static Source tested(double squares, int degrees, Source against) {
    double f = squares / degrees / against.meanSquare();
    return new Source(squares, degrees, Double.isFinite(f) ? f : null, p(f, degrees, against));
  }

  private static @Nullable Double p(double f, int degrees, Source against) {
    if (Double.isNaN(f)) {
      return null;
    }
    return Double.isInfinite(f)
        ? 0
        : FDistribution.of(degrees, against.degreesOfFreedom()).survivalProbability(f);
  }

  private static double square(double value) {
    return value * value;
  }
}
