package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.equiphase.calculator.GaugeCalculationApi.GaugeAnswer;
import org.equiphase.calculator.GaugeCalculationApi.GaugeRequest;
import org.equiphase.metrology.RangeConstants;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Whether a bench tells parts apart. */
@Component
@Order(15)
class GaugeCalculation implements Calculation {

  private final GaugeCalculationApi gauges;

  GaugeCalculation(GaugeCalculationApi gauges) {
    this.gauges = gauges;
  }

  @Override
  public String name() {
    return "gauge";
  }

  @Override
  public String title() {
    return "metrology.gauge.title";
  }

  @Override
  public String about() {
    return "metrology.gauge.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("toleranceWidth", "metrology.gauge.tolerance", null, "6").orEmpty(),
        Input.of("poolingP", "metrology.gauge.pooling", null, "0.25").orEmpty(),
        Input.area(
            "readings",
            "metrology.gauge.readings",
            """
            1; Ada; 0.31; 0.28
            1; Ben; 0.36; 0.25
            2; Ada; -0.92; -0.88
            2; Ben; -0.84; -0.97
            3; Ada; 1.52; 1.57
            3; Ben; 1.66; 1.55
            4; Ada; 0.05; 0.11
            4; Ben; 0.13; 0.02"""));
  }

  /**
   * Constants of the range method.
   *
   * @param d2 of the trials
   * @param d2StarAppraisers d2* of one range over the people; null with one of them
   * @param d2StarParts d2* of one range over the parts
   */
  record Result(
      GaugeAnswer answer,
      int parts,
      int appraisers,
      int trials,
      double d2,
      @Nullable Double d2StarAppraisers,
      double d2StarParts) {}

  @Override
  public Result calculate(Typed typed) {
    Double width = typed.optional("toleranceWidth");
    Double poolingP = typed.optional("poolingP");
    Map<String, Map<String, double[]>> parts = new LinkedHashMap<>();
    for (Typed.Row row : typed.rows("readings")) {
      String part = row.text(0);
      String person = row.text(1);
      double[] twice =
          parts
              .computeIfAbsent(part, key -> new LinkedHashMap<>())
              .putIfAbsent(person, row.rest(2, "metrology.gauge.cell.reading"));
      if (twice != null) {
        throw refuse(Sentence.of("metrology.gauge.again", row.line(), part, person));
      }
    }
    typed.done();
    List<List<double[]>> readings = inOneOrder(parts);
    GaugeAnswer answer = gauges.gaugeStudy(new GaugeRequest(readings, poolingP, width));
    int appraisers = readings.get(0).size();
    int trials = readings.get(0).get(0).length;
    return new Result(
        answer,
        readings.size(),
        appraisers,
        trials,
        RangeConstants.of(trials).d2(),
        appraisers < 2 ? null : RangeConstants.of(appraisers).d2Star(),
        RangeConstants.of(readings.size()).d2Star());
  }

  /** Lines may come in any order; the people are taken in that of the first part. */
  private static List<List<double[]>> inOneOrder(Map<String, Map<String, double[]>> parts) {
    Set<String> people = parts.values().iterator().next().keySet();
    List<List<double[]>> readings = new ArrayList<>();
    parts.forEach(
        (part, byPerson) -> {
          if (!byPerson.keySet().equals(people)) {
            throw refuse(
                Sentence.of(
                    "metrology.gauge.notAll",
                    part,
                    String.join(", ", byPerson.keySet()),
                    String.join(", ", people)));
          }
          readings.add(
              people.stream().map(person -> present(person, byPerson.get(person))).toList());
        });
    return readings;
  }

  private static InvalidInputException refuse(Sentence message) {
    return InvalidInputException.of("readings", message);
  }
}
