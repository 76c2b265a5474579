package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.equiphase.calculator.CutCalculationApi.ChangeRequest;
import org.equiphase.calculator.CutCalculationApi.CutRequest;
import org.equiphase.calculator.CutCalculationApi.EstimateRequest;
import org.equiphase.calculator.CutCalculationApi.VelocityFactorRequest;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.matching.VelocityFactorLearning;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What finished cuts say of a lot's velocity factor. */
@Component
@Order(14)
class VelocityCalculation implements Calculation {

  private final CutCalculationApi cuts;

  VelocityCalculation(CutCalculationApi cuts) {
    this.cuts = cuts;
  }

  @Override
  public String name() {
    return "velocity";
  }

  @Override
  public String title() {
    return "matching.velocity.title";
  }

  @Override
  public String about() {
    return "matching.velocity.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("velocityFactor", "matching.velocity.before", null, "0.695")
            .as("prior.velocityFactor"),
        Input.of("velocityUncertainty", "calculator.velocityUncertainty", null, "0.006")
            .as("prior.standardUncertainty")
            .orEmpty(),
        Input.of("velocityHalfWidth", "calculator.velocityHalfWidth", null, "0.01")
            .as("prior.halfWidth")
            .orEmpty(),
        Input.area(
            "cuts",
            "matching.velocity.cuts",
            """
            A1; 6.5; 0.1; 2800; 31.9; 0.5
            A2; 3.2; 0.1; 2800; 15.3; 0.5
            A3; 8.1; 0.1; 2800; 39.4; 0.5"""));
  }

  @Override
  public Map<String, String> example() {
    Map<String, String> example = new LinkedHashMap<>(Calculation.super.example());
    example.remove("velocityHalfWidth");
    return example;
  }

  /** A cut, and what the first of its frequencies alone says. */
  record Cut(CutRequest request, ChangeRequest first, VelocityFactorLearning.CutOutcome outcome) {}

  record Result(VelocityFactorEstimate prior, VelocityFactorLearning answer, List<Cut> cuts) {}

  @Override
  public Result calculate(Typed typed) {
    Double velocityFactor = typed.number("velocityFactor");
    Double uncertainty = typed.optional("velocityUncertainty");
    Double halfWidth = typed.optional("velocityHalfWidth");
    if (uncertainty == null && halfWidth == null) {
      typed.number("velocityUncertainty");
    }
    List<CutRequest> requests = typed.rows("cuts").stream().map(VelocityCalculation::cut).toList();
    typed.done();
    EstimateRequest prior = new EstimateRequest(velocityFactor, uncertainty, halfWidth);
    VelocityFactorLearning answer =
        cuts.velocityFactor(new VelocityFactorRequest(prior, new ArrayList<>(requests), null));
    List<Cut> finished = new ArrayList<>();
    for (int i = 0; i < requests.size(); i++) {
      CutRequest request = requests.get(i);
      finished.add(
          new Cut(
              request,
              present("changes", present("changes", request.changes()).get(0)),
              answer.cuts().get(i)));
    }
    return new Result(prior.read("prior"), answer, finished);
  }

  private static CutRequest cut(Typed.Row row) {
    List<ChangeRequest> changes = new ArrayList<>();
    for (int cell = 3; cell == 3 || !row.text(cell).isEmpty(); cell += 3) {
      changes.add(
          new ChangeRequest(
              row.number(cell, "calculator.cell.frequency", 1e6),
              row.number(cell + 1, "calculator.cell.phaseChange"),
              row.number(cell + 2, "calculator.cell.phaseChangeUncertainty")));
    }
    return new CutRequest(
        row.text(0),
        row.number(1, "calculator.cell.cut"),
        row.number(2, "calculator.cell.cutUncertainty"),
        new ArrayList<>(changes));
  }
}
