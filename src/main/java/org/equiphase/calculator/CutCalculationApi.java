package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.web.Require.present;

import java.util.List;
import java.util.function.Supplier;
import org.equiphase.matching.CutPlan;
import org.equiphase.matching.CutPlanner;
import org.equiphase.matching.CutProblem;
import org.equiphase.matching.FinishedCut;
import org.equiphase.matching.InvalidProblemException;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.matching.VelocityFactorLearner;
import org.equiphase.matching.VelocityFactorLearning;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Cuts under uncertainty, and what finished cuts say of a velocity factor; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class CutCalculationApi {

  /** A value with its standard uncertainty, or with a tolerance within which it lies anywhere. */
  record EstimateRequest(
      @Nullable Double velocityFactor,
      @Nullable Double standardUncertainty,
      @Nullable Double halfWidth) {

    VelocityFactorEstimate read(String field) {
      double value = present(field + ".velocityFactor", velocityFactor);
      return under(
          field,
          () ->
              standardUncertainty == null && halfWidth != null
                  ? VelocityFactorEstimate.ofTolerance(value, halfWidth)
                  : new VelocityFactorEstimate(
                      value, present(field + ".standardUncertainty", standardUncertainty)));
    }
  }

  record SpotRequest(
      @Nullable Double frequencyHz,
      @Nullable Double phaseErrorDeg,
      @Nullable Double acceptanceDeg,
      @Nullable Double readingStandardUncertaintyDeg) {}

  record CutPlanRequest(
      @Nullable List<@Nullable SpotRequest> spots,
      @Nullable EstimateRequest estimate,
      @Nullable Double cutStandardUncertaintyMm,
      @Nullable Double cutResolutionMm,
      @Nullable Double trimAllowanceMm,
      @Nullable Double tooShortLimit,
      @Nullable Integer maxCuts) {}

  /** The cut of highest probability in tolerance that keeps the limit on cutting too short. */
  @PostMapping("/cut-plan")
  CutPlan cutPlan(@RequestBody CutPlanRequest request) {
    List<@Nullable SpotRequest> spots = present("spots", request.spots);
    return CutPlanner.plan(
        new CutProblem(
            indexed("spots", spots, CutCalculationApi::spot),
            present("estimate", request.estimate).read("estimate"),
            present("cutStandardUncertaintyMm", request.cutStandardUncertaintyMm),
            present("cutResolutionMm", request.cutResolutionMm),
            present("trimAllowanceMm", request.trimAllowanceMm),
            request.tooShortLimit == null
                ? CutProblem.DEFAULT_TOO_SHORT_LIMIT
                : request.tooShortLimit,
            request.maxCuts == null ? CutProblem.DEFAULT_MAX_CUTS : request.maxCuts));
  }

  private static CutProblem.Spot spot(String at, SpotRequest spot) {
    return new CutProblem.Spot(
        present(at + ".frequencyHz", spot.frequencyHz),
        present(at + ".phaseErrorDeg", spot.phaseErrorDeg),
        present(at + ".acceptanceDeg", spot.acceptanceDeg),
        present(at + ".readingStandardUncertaintyDeg", spot.readingStandardUncertaintyDeg));
  }

  record ChangeRequest(
      @Nullable Double frequencyHz,
      @Nullable Double phaseChangeDeg,
      @Nullable Double standardUncertaintyDeg) {}

  record CutRequest(
      @Nullable String serial,
      @Nullable Double cutMm,
      @Nullable Double cutStandardUncertaintyMm,
      @Nullable List<@Nullable ChangeRequest> changes) {}

  record VelocityFactorRequest(
      @Nullable EstimateRequest prior,
      @Nullable List<@Nullable CutRequest> cuts,
      @Nullable Double outlierLimit) {}

  /** A lot's velocity factor after its finished cuts. */
  @PostMapping("/velocity-factor")
  VelocityFactorLearning velocityFactor(@RequestBody VelocityFactorRequest request) {
    List<@Nullable CutRequest> cuts = present("cuts", request.cuts);
    return VelocityFactorLearner.learn(
        present("prior", request.prior).read("prior"),
        indexed("cuts", cuts, CutCalculationApi::cut),
        request.outlierLimit == null
            ? VelocityFactorLearner.DEFAULT_OUTLIER_LIMIT
            : request.outlierLimit);
  }

  private static FinishedCut cut(String at, CutRequest cut) {
    List<@Nullable ChangeRequest> changes = present(at + ".changes", cut.changes);
    return new FinishedCut(
        present(at + ".serial", cut.serial),
        present(at + ".cutMm", cut.cutMm),
        present(at + ".cutStandardUncertaintyMm", cut.cutStandardUncertaintyMm),
        indexed(at + ".changes", changes, CutCalculationApi::change));
  }

  private static FinishedCut.Change change(String at, ChangeRequest change) {
    return new FinishedCut.Change(
        present(at + ".frequencyHz", change.frequencyHz),
        present(at + ".phaseChangeDeg", change.phaseChangeDeg),
        present(at + ".standardUncertaintyDeg", change.standardUncertaintyDeg));
  }

  /** Puts the field that an error names below another. */
  private static <T> T under(String field, Supplier<T> value) {
    try {
      return value.get();
    } catch (InvalidProblemException e) {
      throw new InvalidProblemException(field + "." + e.field(), String.valueOf(e.getMessage()));
    }
  }
}
