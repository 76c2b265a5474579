package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.calculator.UncertaintyCalculationApi.BudgetAnswer;
import org.equiphase.calculator.UncertaintyCalculationApi.BudgetRequest;
import org.equiphase.calculator.UncertaintyCalculationApi.ContributionAnswer;
import org.equiphase.calculator.UncertaintyCalculationApi.ContributionRequest;
import org.equiphase.metrology.Distribution;
import org.equiphase.metrology.Sharing;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What a reading is worth. */
@Component
@Order(10)
class BudgetCalculation implements Calculation {

  private final UncertaintyCalculationApi uncertainty;

  BudgetCalculation(UncertaintyCalculationApi uncertainty) {
    this.uncertainty = uncertainty;
  }

  @Override
  public String name() {
    return "budget";
  }

  @Override
  public String title() {
    return "metrology.budget.title";
  }

  @Override
  public String about() {
    return "metrology.budget.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("probabilityPercent", "metrology.budget.confidence", "%", "95")
            .as("probability")
            .orEmpty(),
        Input.area(
            "contributions",
            "metrology.budget.contributions",
            """
                analyzer; 0.30; NORMAL; COMMON; 1; 2
                connectors; 0.15; NORMAL; INDEPENDENT; 1; ; 9
                cable flexure; 0.10; RECTANGULAR; INDEPENDENT
                drift left over; 0.12; RECTANGULAR; INDEPENDENT
                temperature; 0.20; RECTANGULAR; COMMON; 0.5"""));
  }

  /**
   * A line of the budget.
   *
   * @param divisor what its value is divided by for a standard uncertainty
   * @param sensitivity change of the reading per unit of the value
   */
  record Line(
      ContributionRequest request, ContributionAnswer answer, double divisor, double sensitivity) {}

  record Result(BudgetAnswer answer, List<Line> lines) {}

  @Override
  public Result calculate(Typed typed) {
    Double probability = typed.optional("probabilityPercent", 0.01);
    List<ContributionRequest> requests = new ArrayList<>();
    for (Typed.Row row : typed.rows("contributions")) {
      row.atMost(7);
      Double sensitivity = row.optional(4, "metrology.budget.cell.sensitivity");
      requests.add(
          new ContributionRequest(
              row.text(0),
              row.number(1, "calculator.cell.value"),
              row.choice(2, "metrology.budget.cell.distribution", Distribution.class),
              row.optional(5, "metrology.budget.cell.coverageFactor"),
              sensitivity == null ? 1.0 : sensitivity,
              row.optional(6, "metrology.budget.cell.degreesOfFreedom"),
              row.choice(3, "metrology.budget.cell.sharing", Sharing.class)));
    }
    typed.done();
    BudgetAnswer answer = uncertainty.uncertaintyBudget(new BudgetRequest(requests, probability));
    List<Line> lines = new ArrayList<>();
    for (int i = 0; i < requests.size(); i++) {
      ContributionRequest request = requests.get(i);
      Double factor = request.coverageFactor();
      lines.add(
          new Line(
              request,
              answer.contributions().get(i),
              factor == null ? present("distribution", request.distribution()).divisor() : factor,
              present("sensitivity", request.sensitivity())));
    }
    return new Result(answer, lines);
  }
}
