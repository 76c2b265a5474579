package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.nullable;
import static org.equiphase.web.Require.present;

import java.util.OptionalDouble;
import org.equiphase.array.ArrayEffect;
import org.equiphase.array.ErrorDistribution;
import org.equiphase.array.LinearArray;
import org.equiphase.array.PlanarArray;
import org.equiphase.array.PlanarEffect;
import org.equiphase.array.Taper;
import org.equiphase.array.ToleranceDesign;
import org.equiphase.rf.InvalidQuantityException;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** What phase errors do to an antenna, and the tolerance that it needs; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class ArrayCalculationApi {

  private static final int USUAL_TRIALS = 2000;

  /** How amplitudes are computed. */
  enum TaperKind {
    UNIFORM,
    TAYLOR,
    CHEBYSHEV
  }

  record TaperDesign(
      @Nullable TaperKind kind,
      @Nullable Integer elements,
      @Nullable Double sidelobeDb,
      @Nullable Integer nBar) {

    double[] amplitudes(String at) {
      int count = present(at + ".elements", elements);
      TaperKind chosen = present(at + ".kind", kind);
      try {
        return switch (chosen) {
          case UNIFORM -> Taper.uniform(count);
          case TAYLOR ->
              Taper.taylor(
                  count, present(at + ".sidelobeDb", sidelobeDb), present(at + ".nBar", nBar));
          case CHEBYSHEV -> Taper.chebyshev(count, present(at + ".sidelobeDb", sidelobeDb));
        };
      } catch (InvalidQuantityException e) {
        throw InvalidInputException.of(at + "." + e.field(), String.valueOf(e.getMessage()));
      }
    }
  }

  record EffectRequest(
      @Nullable Double spacingWavelengths,
      double @Nullable [] positionsWavelengths,
      @Nullable Double steerDeg,
      double @Nullable [] taper,
      @Nullable TaperDesign taperDesign,
      double @Nullable [] phaseErrorDeg) {}

  record EffectAnswer(
      @Nullable Double gainLossDb,
      @Nullable Double peakGainLossDb,
      double beamShiftDeg,
      @Nullable Double peakSidelobeDb,
      @Nullable Double idealPeakSidelobeDb,
      double ruleOfThumbLossDb) {}

  /** What phase errors do to a linear array. */
  @PostMapping("/array-effect")
  EffectAnswer effect(@RequestBody EffectRequest request) {
    LinearArray array =
        line(
            request.spacingWavelengths,
            request.positionsWavelengths,
            request.taper,
            request.taperDesign);
    ArrayEffect effect =
        ArrayEffect.of(
            array,
            present("steerDeg", request.steerDeg),
            present("phaseErrorDeg", request.phaseErrorDeg));
    return new EffectAnswer(
        finite(effect.gainLossDb()),
        finite(effect.peakGainLossDb()),
        effect.beamShiftDeg(),
        nullable(effect.peakSidelobeDb()),
        nullable(effect.idealPeakSidelobeDb()),
        effect.ruleOfThumbLossDb());
  }

  record PlanarRequest(
      @Nullable Integer rows,
      @Nullable Integer columns,
      @Nullable Double rowSpacingWavelengths,
      @Nullable Double columnSpacingWavelengths,
      double @Nullable [] xWavelengths,
      double @Nullable [] yWavelengths,
      @Nullable Double thetaDeg,
      @Nullable Double phiDeg,
      double @Nullable [] taper,
      @Nullable TaperDesign rowTaperDesign,
      @Nullable TaperDesign columnTaperDesign,
      double @Nullable [] phaseErrorDeg) {}

  record PlanarAnswer(
      @Nullable Double gainLossDb,
      @Nullable Double peakGainLossDb,
      double beamShiftDeg,
      double peakThetaDeg,
      double peakPhiDeg,
      @Nullable Double peakSidelobeDb,
      @Nullable Double idealPeakSidelobeDb,
      double ruleOfThumbLossDb) {}

  /**
   * What phase errors do to a planar array: a grid, its elements row by row, or elements anywhere.
   */
  @PostMapping("/array-effect-planar")
  PlanarAnswer planarEffect(@RequestBody PlanarRequest request) {
    PlanarEffect effect =
        PlanarEffect.of(
            plane(request),
            present("thetaDeg", request.thetaDeg),
            present("phiDeg", request.phiDeg),
            present("phaseErrorDeg", request.phaseErrorDeg));
    return new PlanarAnswer(
        finite(effect.gainLossDb()),
        finite(effect.peakGainLossDb()),
        effect.beamShiftDeg(),
        effect.peakThetaDeg(),
        effect.peakPhiDeg(),
        nullable(effect.peakSidelobeDb()),
        nullable(effect.idealPeakSidelobeDb()),
        effect.ruleOfThumbLossDb());
  }

  record ToleranceRequest(
      @Nullable Double spacingWavelengths,
      double @Nullable [] positionsWavelengths,
      @Nullable Double steerDeg,
      double @Nullable [] taper,
      @Nullable TaperDesign taperDesign,
      @Nullable ErrorDistribution distribution,
      @Nullable Double sidelobeLimitDb,
      @Nullable Double probability,
      @Nullable Integer trials,
      @Nullable Long seed) {}

  record ToleranceAnswer(
      double toleranceDeg,
      ErrorDistribution distribution,
      boolean anyErrorWillDo,
      double probability,
      double probabilityLower,
      double probabilityUpper,
      @Nullable Double idealPeakSidelobeDb) {}

  /** The phase tolerance that keeps the peak sidelobe under a limit with a given probability. */
  @PostMapping("/array-tolerance")
  ToleranceAnswer tolerance(@RequestBody ToleranceRequest request) {
    LinearArray array =
        line(
            request.spacingWavelengths,
            request.positionsWavelengths,
            request.taper,
            request.taperDesign);
    ToleranceDesign.Goal goal =
        new ToleranceDesign.Goal(
            present("distribution", request.distribution),
            present("sidelobeLimitDb", request.sidelobeLimitDb),
            present("probability", request.probability),
            request.trials == null
                ? Math.min(USUAL_TRIALS, ToleranceDesign.mostTrials(array))
                : request.trials,
            request.seed == null ? 1 : request.seed);
    ToleranceDesign design = ToleranceDesign.of(array, present("steerDeg", request.steerDeg), goal);
    return new ToleranceAnswer(
        design.toleranceDeg(),
        goal.distribution(),
        design.anyErrorWillDo(),
        design.probability(),
        design.probabilityLower(),
        design.probabilityUpper(),
        nullable(design.idealPeakSidelobeDb()));
  }

  private static LinearArray line(
      @Nullable Double spacingWavelengths,
      double @Nullable [] positionsWavelengths,
      double @Nullable [] taper,
      @Nullable TaperDesign design) {
    double[] amplitudes =
        design == null
            ? present("taper", taper)
            : notBoth("taperDesign", taper, design).amplitudes("taperDesign");
    if (positionsWavelengths == null) {
      return LinearArray.ofSpacing(present("spacingWavelengths", spacingWavelengths), amplitudes);
    }
    return LinearArray.ofPositions(
        notBoth("positionsWavelengths", spacingWavelengths, positionsWavelengths), amplitudes);
  }

  private static PlanarArray plane(PlanarRequest request) {
    double[] taper =
        request.rowTaperDesign == null && request.columnTaperDesign == null
            ? present("taper", request.taper)
            : notBoth(
                "taper",
                request.taper,
                PlanarArray.product(
                    present("rowTaperDesign", request.rowTaperDesign).amplitudes("rowTaperDesign"),
                    present("columnTaperDesign", request.columnTaperDesign)
                        .amplitudes("columnTaperDesign")));
    Integer rows = request.rows;
    if (rows == null) {
      return PlanarArray.ofPositions(
          present("xWavelengths", request.xWavelengths),
          present("yWavelengths", request.yWavelengths),
          taper);
    }
    notBoth("xWavelengths", request.xWavelengths, rows);
    notBoth("yWavelengths", request.yWavelengths, rows);
    return PlanarArray.ofGrid(
        rows,
        present("columns", request.columns),
        present("rowSpacingWavelengths", request.rowSpacingWavelengths),
        present("columnSpacingWavelengths", request.columnSpacingWavelengths),
        taper);
  }

  /** The value of one of two fields of which a request may carry only one. */
  private static <T> T notBoth(String field, @Nullable Object other, T value) {
    if (other != null) {
      throw InvalidInputException.of(
          field, "says again what another field says; leave one of the two out");
    }
    return value;
  }

  private static @Nullable Double finite(double value) {
    return nullable(Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty());
  }
}
