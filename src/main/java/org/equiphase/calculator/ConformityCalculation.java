package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.calculator.UncertaintyCalculationApi.ConformityRequest;
import org.equiphase.metrology.Conformity;
import org.equiphase.metrology.Normal;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** How sure a verdict is. */
@Component
@Order(8)
class ConformityCalculation implements Calculation {

  private final UncertaintyCalculationApi uncertainty;

  ConformityCalculation(UncertaintyCalculationApi uncertainty) {
    this.uncertainty = uncertainty;
  }

  @Override
  public String name() {
    return "conformity";
  }

  @Override
  public String title() {
    return "metrology.conformity.title";
  }

  @Override
  public String about() {
    return "metrology.conformity.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("value", "metrology.conformity.value", null, "1.9"),
        Input.of("standardUncertainty", "metrology.conformity.uncertainty", null, "0.5"),
        Input.of("lower", "calculator.lowerLimit", null, "-3").orEmpty(),
        Input.of("upper", "calculator.upperLimit", null, "3").orEmpty(),
        Input.of("guardFactor", "metrology.conformity.guardFactor", null, "1"));
  }

  /**
   * Sizes between the steps of the sum.
   *
   * @param lowerZ distance of the lower limit in units of u; null without one or where u is 0
   * @param lowerPhi probability below the lower limit
   * @param upperPhi probability up to the upper limit
   */
  record Result(
      ConformityRequest request,
      Conformity answer,
      @Nullable Double lowerZ,
      double lowerPhi,
      @Nullable Double upperZ,
      double upperPhi,
      double guard,
      boolean crossed) {}

  @Override
  public Result calculate(Typed typed) {
    ConformityRequest request =
        new ConformityRequest(
            typed.number("value"),
            typed.number("standardUncertainty"),
            typed.optional("lower"),
            typed.optional("upper"),
            typed.number("guardFactor"));
    typed.done();
    Conformity answer = uncertainty.conformity(request);
    double value = present("value", request.value());
    double u = present("standardUncertainty", request.standardUncertainty());
    Double lower = request.lower();
    Double upper = request.upper();
    return new Result(
        request,
        answer,
        z(lower, value, u),
        lower == null ? 0 : Normal.outside(value, u, lower, Double.POSITIVE_INFINITY),
        z(upper, value, u),
        upper == null ? 1 : Normal.inside(value, u, Double.NEGATIVE_INFINITY, upper),
        present("guardFactor", request.guardFactor()) * 2 * u,
        answer.acceptanceLower() == null && answer.acceptanceUpper() == null);
  }

  private static @Nullable Double z(@Nullable Double limit, double value, double u) {
    return limit == null || u == 0 ? null : (limit - value) / u;
  }
}
