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
    return "Cut under uncertainty";
  }

  @Override
  public String about() {
    return "The cut most likely to end in tolerance while the risk of cutting too short stays low.";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("velocityFactor", "Velocity factor v", null, "0.695")
            .as("velocityFactor", "estimate.velocityFactor"),
        Input.of("velocityUncertainty", "u(v), standard", null, "0.008")
            .as("estimate.standardUncertainty")
            .orEmpty(),
        Input.of("velocityHalfWidth", "or: v lies within ±", null, "0.014")
            .as("estimate.halfWidth")
            .orEmpty(),
        Input.of("cutStandardUncertaintyMm", "Cuts land within u =", "mm, standard", "0.1"),
        Input.of("cutResolutionMm", "Cuts in steps of", "mm", "0.1"),
        Input.of("trimAllowanceMm", "Trim allowance", "mm", "20"),
        Input.of("tooShortPercent", "Risk of too short at most", "%", "2")
            .as("tooShortLimit")
            .orEmpty(),
        Input.of("maxCuts", "Cuts at most", null, "3").orEmpty(),
        Input.area(
            "spots",
            "Reading, one frequency per line: MHz; phase error °; accepted ±°; u of the"
                + " reading °",
            "2800; -61.5; 1.7; 0.5"));
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
        row.number(0, "frequency", 1e6),
        row.number(1, "phase error"),
        row.number(2, "accepted"),
        row.number(3, "u of the reading"));
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
