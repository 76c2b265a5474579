package org.equiphase.gauge;

import java.util.List;
import java.util.OptionalInt;
import org.equiphase.metrology.AnovaGauge;
import org.equiphase.metrology.GaugeStudy;
import org.equiphase.metrology.GaugeVariation;
import org.equiphase.metrology.RangeGauge;
import org.jspecify.annotations.Nullable;

/**
 * What a finished study says.
 *
 * @param valuesDeg by part, appraiser and trial, each part's within half a turn of its first
 */
record Analysis(
    double[][][] valuesDeg, AnovaGauge anova, RangeGauge range, Shares byAnova, Shares byRange) {

  /**
   * Standard deviations, their percentages of the total and of the tolerance (six standard
   * deviations), and the kinds of parts told apart; null where the gauge has no variation at all.
   */
  record Shares(List<Share> shares, double gaugePercent, @Nullable Integer distinctCategories) {

    Shares {
      shares = List.copyOf(shares);
    }

    static Shares of(GaugeVariation v, double toleranceWidthDeg) {
      OptionalInt categories = v.distinctCategories();
      return new Shares(
          List.of(
              share("EV", v.equipment(), v, toleranceWidthDeg),
              share("AV", v.appraiser(), v, toleranceWidthDeg),
              share("INT", v.interaction(), v, toleranceWidthDeg),
              share("GRR", v.gauge(), v, toleranceWidthDeg),
              share("PV", v.part(), v, toleranceWidthDeg),
              share("TV", v.total(), v, toleranceWidthDeg)),
          v.percentOfTotal(v.gauge()),
          categories.isPresent() ? categories.getAsInt() : null);
    }

    private static Share share(
        String name, double deviationDeg, GaugeVariation v, double toleranceWidthDeg) {
      return new Share(
          name,
          deviationDeg,
          v.percentOfTotal(deviationDeg),
          v.percentOfTolerance(deviationDeg, toleranceWidthDeg));
    }
  }

  /** One source of variation, by its usual abbreviation. */
  record Share(
      String name, double deviationDeg, double percentOfTotal, double percentOfTolerance) {}

  static Analysis of(Study study, List<StudyValue> values) {
    double[][][] degrees =
        new double[study.parts().size()][study.appraisers().size()][study.trials()];
    double[] first = new double[study.parts().size()];
    boolean[] known = new boolean[first.length];
    for (StudyValue value : values) {
      if (value.struckAt() == null) {
        int part = value.part();
        if (!known[part]) {
          first[part] = value.phaseDeg();
          known[part] = true;
        }
        degrees[part][value.appraiser()][value.trial()] =
            first[part] + Math.IEEEremainder(value.phaseDeg() - first[part], 360);
      }
    }
    GaugeStudy gauge = GaugeStudy.of(degrees);
    AnovaGauge anova = gauge.byAnova();
    RangeGauge range = gauge.byRange();
    double width = study.toleranceWidthDeg();
    return new Analysis(
        degrees,
        anova,
        range,
        Shares.of(anova.variation(), width),
        Shares.of(range.variation(), width));
  }

  /** What is usually read from it (AIAG, Measurement Systems Analysis, 4th edition, II-D). */
  String verdict() {
    double percent = byAnova.gaugePercent();
    return percent < 10 ? "GOOD" : percent <= 30 ? "MARGINAL" : "BAD";
  }
}
