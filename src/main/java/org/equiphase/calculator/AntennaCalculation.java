package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.calculator.ArrayCalculationApi.EffectAnswer;
import org.equiphase.calculator.ArrayCalculationApi.EffectRequest;
import org.equiphase.calculator.ArrayCalculationApi.TaperDesign;
import org.equiphase.calculator.ArrayCalculationApi.TaperKind;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What a set's phase errors do to the antenna. */
@Component
@Order(9)
class AntennaCalculation implements Calculation {

  /** Where the amplitudes come from. */
  enum Amplitudes {
    TYPED,
    TAYLOR,
    CHEBYSHEV
  }

  private final ArrayCalculationApi arrays;

  AntennaCalculation(ArrayCalculationApi arrays) {
    this.arrays = arrays;
  }

  @Override
  public String name() {
    return "antenna";
  }

  @Override
  public String title() {
    return "matching.antenna.title";
  }

  @Override
  public String about() {
    return "matching.antenna.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("spacingWavelengths", "matching.antenna.spacing", "λ", "0.5"),
        Input.of("steerDeg", "matching.antenna.steered", "°", "0"),
        Input.choice(
            "amplitudes",
            "matching.antenna.amplitudes",
            "TYPED",
            "matching.antenna.typed",
            "TAYLOR",
            "matching.antenna.taylor",
            "CHEBYSHEV",
            "matching.antenna.chebyshev"),
        Input.of("sidelobeDb", "matching.antenna.sidelobeLevel", "dB", "-25")
            .as("taper.sidelobeDb")
            .orEmpty(),
        Input.of("nBar", "matching.antenna.nBar", null, "4").as("taper.nBar").orEmpty(),
        Input.area(
                "elements",
                "matching.antenna.elements",
                "2.1\n-1.4\n0.3\n-2.8\n1.9\n0.6\n-0.2\n-1.1")
            .as("taper", "phaseErrorDeg"));
  }

  /** An element's share of the array factor at the steered direction. */
  record Element(double amplitude, double errorDeg, double re, double im) {}

  /**
   * Sizes between the steps of the sum.
   *
   * @param sigmaDeg standard deviation of the errors about their mean, divisor N
   * @param sum of all amplitudes
   * @param re real part of the array factor at the steered direction
   * @param im its imaginary part
   */
  record Result(
      EffectRequest request,
      EffectAnswer answer,
      List<Element> elements,
      double meanDeg,
      double sigmaDeg,
      double sum,
      double re,
      double im) {

    public double steeredU() {
      return Math.sin(Math.toRadians(present("steerDeg", request.steerDeg())));
    }

    public double sigmaRad() {
      return Math.toRadians(sigmaDeg);
    }

    public double magnitude() {
      return Math.hypot(re, im);
    }
  }

  @Override
  public Result calculate(Typed typed) {
    Double spacing = typed.number("spacingWavelengths");
    Double steerDeg = typed.number("steerDeg");
    Amplitudes source = typed.choice("amplitudes", Amplitudes.class);
    Double sidelobeDb =
        source == Amplitudes.TYPED ? typed.optional("sidelobeDb") : typed.number("sidelobeDb");
    Integer nBar = source == Amplitudes.TAYLOR ? typed.whole("nBar") : typed.optionalWhole("nBar");
    List<@Nullable Double> errors = new ArrayList<>();
    List<Double> listed = new ArrayList<>();
    for (Typed.Row row : typed.rows("elements")) {
      row.atMost(2);
      errors.add(row.number(0, "calculator.cell.phaseError"));
      Double amplitude = row.optional(1, "calculator.cell.amplitude");
      listed.add(amplitude == null ? 1.0 : amplitude);
    }
    typed.done();
    double[] errorDeg = new double[errors.size()];
    for (int n = 0; n < errorDeg.length; n++) {
      errorDeg[n] = present("elements", errors.get(n));
    }
    double[] taper =
        switch (present("amplitudes", source)) {
          case TYPED -> listed.stream().mapToDouble(Double::doubleValue).toArray();
          case TAYLOR ->
              new TaperDesign(TaperKind.TAYLOR, errorDeg.length, sidelobeDb, nBar)
                  .amplitudes("taper");
          case CHEBYSHEV ->
              new TaperDesign(TaperKind.CHEBYSHEV, errorDeg.length, sidelobeDb, null)
                  .amplitudes("taper");
        };
    EffectRequest request = new EffectRequest(spacing, null, steerDeg, taper, null, errorDeg);
    return summed(request, arrays.effect(request), taper, errorDeg);
  }

  private static Result summed(
      EffectRequest request, EffectAnswer answer, double[] taper, double[] errorDeg) {
    List<Element> elements = new ArrayList<>();
    double mean = 0;
    double sum = 0;
    double re = 0;
    double im = 0;
    for (int n = 0; n < taper.length; n++) {
      double radians = Math.toRadians(errorDeg[n]);
      Element element =
          new Element(
              taper[n], errorDeg[n], taper[n] * Math.cos(radians), taper[n] * Math.sin(radians));
      elements.add(element);
      mean += errorDeg[n] / taper.length;
      sum += taper[n];
      re += element.re();
      im += element.im();
    }
    double squares = 0;
    for (double error : errorDeg) {
      squares += (error - mean) * (error - mean);
    }
    return new Result(
        request, answer, elements, mean, Math.sqrt(squares / errorDeg.length), sum, re, im);
  }
}
