package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.calculator.Fields.located;
import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.metrology.Conformity;
import org.equiphase.metrology.Contribution;
import org.equiphase.metrology.Distribution;
import org.equiphase.metrology.Sharing;
import org.equiphase.metrology.UncertaintyBudget;
import org.equiphase.web.InvalidInputException;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Verdicts under uncertainty and uncertainty budgets; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class UncertaintyCalculationApi {

  record ConformityRequest(
      @Nullable Double value,
      @Nullable Double standardUncertainty,
      @Nullable Double lower,
      @Nullable Double upper,
      @Nullable Double guardFactor) {}

  /** Whether a value is accepted against its limits, and how likely the true one conforms. */
  @PostMapping("/conformity")
  Conformity conformity(@RequestBody ConformityRequest request) {
    return Conformity.of(
        present("value", request.value),
        present("standardUncertainty", request.standardUncertainty),
        request.lower,
        request.upper,
        present("guardFactor", request.guardFactor));
  }

  /**
   * A line of the budget; with a coverage factor, value is an expanded uncertainty. Degrees of
   * freedom null: infinite.
   */
  record ContributionRequest(
      @Nullable String name,
      @Nullable Double value,
      @Nullable Distribution distribution,
      @Nullable Double coverageFactor,
      @Nullable Double sensitivity,
      @Nullable Double degreesOfFreedom,
      @Nullable Sharing sharing) {}

  /** Probability null: expanded with a coverage factor of 2. */
  record BudgetRequest(
      @Nullable List<ContributionRequest> contributions, @Nullable Double probability) {}

  record ContributionAnswer(String name, double standardUncertainty, double varianceSharePercent) {}

  /** Degrees of freedom null: infinite. */
  record CombinedAnswer(
      double standardUncertainty,
      @Nullable Double effectiveDegreesOfFreedom,
      double coverageFactor,
      double expandedUncertainty) {

    static CombinedAnswer of(UncertaintyBudget budget, @Nullable Double probability) {
      double factor =
          probability == null
              ? UncertaintyBudget.USUAL_COVERAGE_FACTOR
              : budget.coverageFactor(probability);
      double degrees = budget.effectiveDegreesOfFreedom();
      return new CombinedAnswer(
          budget.standardUncertainty(),
          Double.isInfinite(degrees) ? null : degrees,
          factor,
          budget.expandedUncertainty(factor));
    }
  }

  record BudgetAnswer(
      List<ContributionAnswer> contributions,
      CombinedAnswer reading,
      double commonStandardUncertainty,
      double independentStandardUncertainty,
      CombinedAnswer difference) {}

  /** What the lines of a budget come to, for one reading and for the difference of two of a set. */
  @PostMapping("/uncertainty-budget")
  BudgetAnswer uncertaintyBudget(@RequestBody BudgetRequest request) {
    List<Contribution> lines =
        indexed(
            "contributions",
            present("contributions", request.contributions),
            UncertaintyCalculationApi::contribution);
    if (lines.isEmpty()) {
      throw InvalidInputException.of("contributions", "must hold at least one line");
    }
    UncertaintyBudget budget = new UncertaintyBudget(lines);
    List<Double> shares = budget.varianceSharePercent();
    List<ContributionAnswer> answers = new ArrayList<>();
    for (int i = 0; i < lines.size(); i++) {
      Contribution line = lines.get(i);
      answers.add(new ContributionAnswer(line.name(), line.standardUncertainty(), shares.get(i)));
    }
    return new BudgetAnswer(
        answers,
        CombinedAnswer.of(budget, request.probability),
        budget.commonStandardUncertainty(),
        budget.independentStandardUncertainty(),
        CombinedAnswer.of(budget.ofDifference(), request.probability));
  }

  private static Contribution contribution(String at, ContributionRequest line) {
    String name = present(at + ".name", line.name);
    double value = present(at + ".value", line.value);
    Distribution distribution = present(at + ".distribution", line.distribution);
    double sensitivity = present(at + ".sensitivity", line.sensitivity);
    Sharing sharing = present(at + ".sharing", line.sharing);
    double degrees =
        line.degreesOfFreedom == null ? Double.POSITIVE_INFINITY : line.degreesOfFreedom;
    Double factor = line.coverageFactor;
    if (factor == null) {
      return located(
          at, () -> new Contribution(name, value, distribution, sensitivity, degrees, sharing));
    }
    if (distribution != Distribution.NORMAL) {
      throw InvalidInputException.of(
          at + ".coverageFactor",
          "belongs to an expanded uncertainty of a NORMAL distribution, not to a half-width");
    }
    if (value < 0) {
      throw InvalidInputException.of(at + ".value", "must be 0 or more, not " + value);
    }
    return located(
        at, () -> Contribution.ofExpanded(name, value, factor, sensitivity, degrees, sharing));
  }
}
