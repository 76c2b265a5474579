package org.equiphase.gauge;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import org.equiphase.metrology.AnovaGauge;
import org.equiphase.metrology.GaugeStudy;
import org.equiphase.metrology.GaugeVariation;
import org.equiphase.metrology.RangeGauge;
import org.equiphase.web.ConflictException;
import org.equiphase.web.Figure;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;

/**
 * What a finished study says.
 *
 * @param valuesDeg by part, appraiser and trial, brought to within half a turn of the first
 */
record Analysis(
    double[][][] valuesDeg, AnovaGauge anova, RangeGauge range, Shares byAnova, Shares byRange) {

  /**
   * Half a turn, less what scatter and drift may add: beyond it the nearer way round is a guess.
   */
  static final double FARTHEST_APART_DEG = 150;

  /**
   * Standard deviations, their percentages of the total and of the tolerance (six standard
   * deviations), and the kinds of parts told apart; null where the gauge has no variation at all.
   */
  record Shares(
      List<Share> shares,
      double gaugePercent,
      double gaugePercentOfTolerance,
      @Nullable Integer distinctCategories) {

    Shares {
      shares = List.copyOf(shares);
    }

    /**
     * @param separated whether appraisers who differ from part to part are seen
     */
    static Shares of(GaugeVariation v, boolean separated, double toleranceWidthDeg) {
      OptionalInt categories = v.distinctCategories();
      List<Share> shares = new ArrayList<>();
      shares.add(share("EV", v.equipment(), v, toleranceWidthDeg));
      shares.add(share("AV", v.appraiser(), v, toleranceWidthDeg));
      if (separated) {
        shares.add(share("INT", v.interaction(), v, toleranceWidthDeg));
      }
      shares.add(share("GRR", v.gauge(), v, toleranceWidthDeg));
      shares.add(share("PV", v.part(), v, toleranceWidthDeg));
      shares.add(share("TV", v.total(), v, toleranceWidthDeg));
      return new Shares(
          shares,
          v.percentOfTotal(v.gauge()),
          v.percentOfTolerance(v.gauge(), toleranceWidthDeg),
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

  /**
   * @throws ConflictException if the values lie so far apart that it is unknown which way round the
   *     parts differ
   */
  static Analysis of(Study study, List<StudyValue> values) {
    double[][][] degrees = aligned(study, values);
    GaugeStudy gauge = GaugeStudy.of(degrees);
    AnovaGauge anova = gauge.byAnova();
    RangeGauge range = gauge.byRange();
    double width = study.toleranceWidthDeg();
    return new Analysis(
        degrees,
        anova,
        range,
        Shares.of(anova.variation(), !anova.pooled(), width),
        Shares.of(range.variation(), false, width));
  }

  /** Each part's values within half a turn of its first, and that of the study's first. */
  private static double[][][] aligned(Study study, List<StudyValue> values) {
    double[][][] degrees =
        new double[study.parts().size()][study.appraisers().size()][study.trials()];
    @Nullable Double[] first = new @Nullable Double[study.parts().size()];
    @Nullable Double anchor = null;
    int lowest = 0;
    int highest = 0;
    double low = Double.POSITIVE_INFINITY;
    double high = Double.NEGATIVE_INFINITY;
    for (StudyValue value : values) {
      if (value.struckAt() != null) {
        continue;
      }
      int part = value.part();
      anchor = anchor == null ? value.phaseDeg() : anchor;
      Double near = first[part];
      double phaseDeg = within180(value.phaseDeg(), near == null ? anchor : near);
      first[part] = near == null ? Double.valueOf(phaseDeg) : near;
      degrees[part][value.appraiser()][value.trial()] = phaseDeg;
      if (phaseDeg < low) {
        low = phaseDeg;
        lowest = part;
      }
      if (phaseDeg > high) {
        high = phaseDeg;
        highest = part;
      }
    }
    if (high - low > FARTHEST_APART_DEG) {
      throw new ConflictException(
          lowest == highest
              ? Sentence.of(
                  "gauge.scattered",
                  study.parts().get(lowest),
                  Figure.of(high - low, 1),
                  Figure.plain(FARTHEST_APART_DEG))
              : Sentence.of(
                  "gauge.farApart",
                  study.parts().get(lowest),
                  study.parts().get(highest),
                  Figure.of(high - low, 1),
                  Figure.plain(FARTHEST_APART_DEG)));
    }
    return degrees;
  }

  private static double within180(double phaseDeg, double ofDeg) {
    return ofDeg + Math.IEEEremainder(phaseDeg - ofDeg, 360);
  }

  /**
   * What is usually read from it (AIAG, Measurement Systems Analysis, 4th edition, II-D): of the
   * gauge's shares in total variation and in tolerance the larger counts, since a bench has to
   * judge both.
   */
  public String verdict() {
    double percent = Math.max(byAnova.gaugePercent(), byAnova.gaugePercentOfTolerance());
    return percent < 10 ? "GOOD" : percent <= 30 ? "MARGINAL" : "BAD";
  }
}
