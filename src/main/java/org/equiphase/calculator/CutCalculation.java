package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.calculator.CutCalculationApi.CutPlanRequest;
import org.equiphase.calculator.CutCalculationApi.EstimateRequest;
import org.equiphase.calculator.CutCalculationApi.SpotRequest;
import org.equiphase.matching.CutPlan;
import org.equiphase.matching.CutProblem;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.metrology.Normal;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** How much to cut where nothing is known exactly. */
@Component
@Order(7)
class CutCalculation implements Calculation {

  private final CutCalculationApi cuts;

  CutCalculation(CutCalculationApi cuts) {
    this.cuts = cuts;
  }

  @Override
  public String name() {
    return "cut";
  }

  @Override
  public String title() {
    return "matching.cut.title";
  }

  @Override
  public String about() {
    return "matching.cut.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("velocityFactor", "matching.cut.velocityFactor", null, "0.695")
            .as("velocityFactor", "estimate.velocityFactor"),
        Input.of("velocityUncertainty", "calculator.velocityUncertainty", null, "0.008")
            .as("estimate.standardUncertainty")
            .orEmpty(),
        Input.of("velocityHalfWidth", "calculator.velocityHalfWidth", null, "0.014")
            .as("estimate.halfWidth")
            .orEmpty(),
        Input.of("cutStandardUncertaintyMm", "matching.cut.landsWithin", "mm", "0.1"),
        Input.of("cutResolutionMm", "matching.cut.steps", "mm", "0.1"),
        Input.of("trimAllowanceMm", "calculator.trimAllowance", "mm", "20"),
        Input.of("tooShortPercent", "matching.cut.risk", "%", "2").as("tooShortLimit").orEmpty(),
        Input.of("maxCuts", "matching.cut.maxCuts", null, "3").orEmpty(),
        Input.area("spots", "matching.cut.reading", "2800; -61.5; 1.7; 0.5"));
  }

  @Override
  public Map<String, String> example() {
    Map<String, String> example = new LinkedHashMap<>(Calculation.super.example());
    example.remove("velocityHalfWidth");
    return example;
  }

  /**
   * The sum at one frequency.
   *
   * @param highZ distance from the expected error to the upper limit in units of u; null if u is 0
   * @param lowZ that to the lower limit
   */
  record Spot(
      double errorDeg,
      double acceptanceDeg,
      CutPlan.Prediction prediction,
      @Nullable Double highZ,
      @Nullable Double lowZ,
      double highPhi,
      double lowPhi,
      double in,
      double tooShort) {}

  record Result(
      CutPlanRequest request,
      CutPlan answer,
      double velocityFactor,
      double velocityUncertainty,
      double tooShortLimit,
      List<Spot> spots) {}

  @Override
  public Result calculate(Typed typed) {
    Double velocityFactor = typed.number("velocityFactor");
    Double uncertainty = typed.optional("velocityUncertainty");
    Double halfWidth = typed.optional("velocityHalfWidth");
    CutPlanRequest request =
        new CutPlanRequest(
            typed.rows("spots").stream().map(CutCalculation::spot).toList(),
            new EstimateRequest(velocityFactor, uncertainty, halfWidth),
            typed.number("cutStandardUncertaintyMm"),
            typed.number("cutResolutionMm"),
            typed.number("trimAllowanceMm"),
            typed.optional("tooShortPercent", 0.01),
            typed.optionalWhole("maxCuts"));
    if (uncertainty == null && halfWidth == null) {
      typed.number("velocityUncertainty");
    }
    typed.done();
    CutPlan answer = cuts.cutPlan(request);
    VelocityFactorEstimate estimate = present("estimate", request.estimate()).read("estimate");
    List<Spot> spots = new ArrayList<>();
    List<@Nullable SpotRequest> asked = present("spots", request.spots());
    for (int k = 0; k < asked.size(); k++) {
      spots.add(summed(present("spots", asked.get(k)), answer.spots().get(k)));
    }
    Double limit = request.tooShortLimit();
    return new Result(
        request,
        answer,
        estimate.velocityFactor(),
        estimate.standardUncertainty(),
        limit == null ? CutProblem.DEFAULT_TOO_SHORT_LIMIT : limit,
        spots);
  }

  private static SpotRequest spot(Typed.Row row) {
    row.atMost(4);
    return new SpotRequest(
        row.number(0, "calculator.cell.frequency", 1e6),
        row.number(1, "calculator.cell.phaseError"),
        row.number(2, "calculator.cell.accepted"),
        row.number(3, "calculator.cell.readingUncertainty"));
  }

  private static Spot summed(SpotRequest asked, CutPlan.Prediction prediction) {
    double limit = present("acceptanceDeg", asked.acceptanceDeg());
    double mean = prediction.predictedErrorDeg();
    double u = prediction.standardUncertaintyDeg();
    double infinity = Double.POSITIVE_INFINITY;
    return new Spot(
        present("phaseErrorDeg", asked.phaseErrorDeg()),
        limit,
        prediction,
        u == 0 ? null : (limit - mean) / u,
        u == 0 ? null : (-limit - mean) / u,
        Normal.inside(mean, u, -infinity, limit),
        Normal.outside(mean, u, -limit, infinity),
        Normal.inside(mean, u, -limit, limit),
        Normal.outside(mean, u, -infinity, limit));
  }
}
