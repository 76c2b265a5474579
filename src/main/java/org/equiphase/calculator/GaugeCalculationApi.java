package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.web.Require.present;

import java.util.List;
import java.util.OptionalInt;
import org.equiphase.metrology.AnovaGauge;
import org.equiphase.metrology.GaugeStudy;
import org.equiphase.metrology.GaugeVariation;
import org.equiphase.metrology.RangeGauge;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Crossed gauge studies; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class GaugeCalculationApi {

  /**
   * Readings by part, appraiser and trial. Pooling p null: 0.25. Tolerance width null: no
   * percentage of it.
   */
  record GaugeRequest(
      @Nullable List<List<double[]>> readings,
      @Nullable Double poolingP,
      @Nullable Double toleranceWidth) {}

  /** One kind of variation, as one standard deviation. */
  record VariationAnswer(
      double standardDeviation, double percentOfTotal, @Nullable Double percentOfTolerance) {

    static VariationAnswer of(double value, GaugeVariation all, @Nullable Double toleranceWidth) {
      return new VariationAnswer(
          value,
          all.percentOfTotal(value),
          toleranceWidth == null ? null : all.percentOfTolerance(value, toleranceWidth));
    }
  }

  /** Distinct categories null: the gauge shows no variation of its own. */
  record VariationsAnswer(
      VariationAnswer equipment,
      VariationAnswer appraiser,
      VariationAnswer interaction,
      VariationAnswer gauge,
      VariationAnswer part,
      VariationAnswer total,
      @Nullable Integer distinctCategories) {

    static VariationsAnswer of(GaugeVariation v, @Nullable Double width) {
      OptionalInt categories = v.distinctCategories();
      return new VariationsAnswer(
          VariationAnswer.of(v.equipment(), v, width),
          VariationAnswer.of(v.appraiser(), v, width),
          VariationAnswer.of(v.interaction(), v, width),
          VariationAnswer.of(v.gauge(), v, width),
          VariationAnswer.of(v.part(), v, width),
          VariationAnswer.of(v.total(), v, width),
          categories.isPresent() ? categories.getAsInt() : null);
    }
  }

  record RangeAnswer(
      VariationsAnswer variation,
      List<Double> averageRanges,
      double averageRange,
      double rangeUpperLimit,
      List<RangeGauge.Cell> rangesBeyond,
      double appraiserSpread,
      double partRange) {}

  record SourceAnswer(
      double sumOfSquares,
      int degreesOfFreedom,
      double meanSquare,
      @Nullable Double f,
      @Nullable Double p) {

    static SourceAnswer of(AnovaGauge.Source source) {
      return new SourceAnswer(
          source.sumOfSquares(),
          source.degreesOfFreedom(),
          source.meanSquare(),
          source.f(),
          source.p());
    }

    static @Nullable SourceAnswer ofNullable(AnovaGauge.@Nullable Source source) {
      return source == null ? null : of(source);
    }
  }

  record AnovaAnswer(
      VariationsAnswer variation,
      SourceAnswer parts,
      @Nullable SourceAnswer appraisers,
      @Nullable SourceAnswer interaction,
      SourceAnswer equipment,
      SourceAnswer total,
      boolean pooled) {}

  record GaugeAnswer(RangeAnswer range, AnovaAnswer anova) {}

  /** The study judged by average and range, and by analysis of variance. */
  @PostMapping("/gauge-study")
  GaugeAnswer gaugeStudy(@RequestBody GaugeRequest request) {
    GaugeStudy study =
        GaugeStudy.of(
            indexed(
                    "readings",
                    present("readings", request.readings),
                    (at, part) ->
                        indexed(at, part, (cell, trials) -> trials).toArray(double[][]::new))
                .toArray(double[][][]::new));
    RangeGauge range = study.byRange();
    AnovaGauge anova =
        study.byAnova(request.poolingP == null ? GaugeStudy.USUAL_POOLING_P : request.poolingP);
    Double width = request.toleranceWidth;
    return new GaugeAnswer(
        new RangeAnswer(
            VariationsAnswer.of(range.variation(), width),
            range.averageRanges(),
            range.averageRange(),
            range.rangeUpperLimit(),
            range.rangesBeyond(),
            range.appraiserSpread(),
            range.partRange()),
        new AnovaAnswer(
            VariationsAnswer.of(anova.variation(), width),
            SourceAnswer.of(anova.parts()),
            SourceAnswer.ofNullable(anova.appraisers()),
            SourceAnswer.ofNullable(anova.interaction()),
            SourceAnswer.of(anova.equipment()),
            SourceAnswer.of(anova.total()),
            anova.pooled()));
  }
}
