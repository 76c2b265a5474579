package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.Arrays;
import java.util.List;
import org.equiphase.calculator.ProcessCalculationApi.CapabilityRequest;
import org.equiphase.metrology.Capability;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Whether a process fits its limits. */
@Component
@Order(13)
class CapabilityCalculation implements Calculation {

  private final ProcessCalculationApi processes;

  CapabilityCalculation(ProcessCalculationApi processes) {
    this.processes = processes;
  }

  @Override
  public String name() {
    return "capability";
  }

  @Override
  public String title() {
    return "metrology.capability.title";
  }

  @Override
  public String about() {
    return "metrology.capability.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("lower", "calculator.lowerLimit", null, "-3").orEmpty(),
        Input.of("upper", "calculator.upperLimit", null, "3").orEmpty(),
        Input.of("target", "metrology.capability.target", null, "0").orEmpty(),
        Input.of("confidencePercent", "metrology.capability.confidence", "%", "95")
            .as("confidence"),
        Input.area(
            "values",
            "metrology.capability.values",
            "0.4\n-0.7\n1.1\n0.2\n-0.3\n0.9\n-1.2\n0.6\n0.1\n-0.5"));
  }

  record Result(
      CapabilityRequest request,
      Capability answer,
      int count,
      double mean,
      double standardDeviation,
      double target) {}

  @Override
  public Result calculate(Typed typed) {
    Double lower = typed.optional("lower");
    Double upper = typed.optional("upper");
    Double target = typed.optional("target");
    Double confidence = typed.number("confidencePercent", 0.01);
    double[] values = typed.column("values");
    typed.done();
    CapabilityRequest request =
        new CapabilityRequest(
            values, null, null, null, lower, upper, target, present("confidence", confidence));
    Capability answer = processes.capability(request);
    double mean = Arrays.stream(values).average().orElseThrow();
    double squares = Arrays.stream(values).map(x -> (x - mean) * (x - mean)).sum();
    double middle = lower == null || upper == null ? 0 : (lower + upper) / 2;
    return new Result(
        request,
        answer,
        values.length,
        mean,
        Math.sqrt(squares / (values.length - 1)),
        target == null ? middle : target);
  }
}
