package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.calculator.LineCalculationApi.ErrorMethod;
import org.equiphase.calculator.LineCalculationApi.StretcherRequest;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.LineStretcher.Geometry;
import org.equiphase.rf.StretcherSetting;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Where to set a line stretcher. */
@Component
@Order(3)
class StretcherCalculation implements Calculation {

  private final LineCalculationApi lines;

  StretcherCalculation(LineCalculationApi lines) {
    this.lines = lines;
  }

  @Override
  public String name() {
    return "stretcher";
  }

  @Override
  public String title() {
    return "calculator.stretcher.title";
  }

  @Override
  public String about() {
    return "calculator.stretcher.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.choice(
            "geometry",
            "calculator.stretcher.title",
            "FOLDED",
            "calculator.stretcher.folded",
            "STRAIGHT",
            "calculator.stretcher.straight"),
        Input.of("frequencyMhz", "calculator.frequency", "MHz", "950").as("frequencyHz"),
        Input.of("phaseErrorDeg", "calculator.stretcher.phaseError", "°", "18.4"),
        Input.choice(
            "method",
            "calculator.measuredIn",
            "TRANSMISSION",
            "calculator.oneWay",
            "REFLECTION",
            "calculator.twoWays"),
        Input.of("airIndex", "calculator.stretcher.airIndex", null, "1.00027"),
        Input.of("minMm", "calculator.stretcher.from", "mm", "0"),
        Input.of("maxMm", "calculator.stretcher.to", "mm", "280"),
        Input.of("resolutionMm", "calculator.stretcher.resolution", "mm", "0.5"),
        Input.of("currentMm", "calculator.stretcher.current", "mm", "40"));
  }

  /**
   * Sizes between the steps of the sum.
   *
   * @param neededMm electrical length to add, whole wavelengths included
   * @param exactSettingMm the setting before it is rounded
   */
  record Result(
      StretcherRequest request,
      StretcherSetting answer,
      int passes,
      double wavelengthMm,
      double neededMm,
      double exactSettingMm) {}

  @Override
  public Result calculate(Typed typed) {
    StretcherRequest request =
        new StretcherRequest(
            typed.choice("geometry", Geometry.class),
            typed.number("frequencyMhz", 1e6),
            typed.number("phaseErrorDeg"),
            typed.choice("method", ErrorMethod.class),
            typed.number("airIndex"),
            typed.number("minMm"),
            typed.number("maxMm"),
            typed.number("resolutionMm"),
            typed.number("currentMm"));
    typed.done();
    StretcherSetting answer = lines.stretcher(request);
    Geometry geometry = present("geometry", request.geometry());
    int passes = present("method", request.method()).passes();
    double wavelengthMm =
        Frequency.ofHertz(present("frequencyMhz", request.frequencyHz()))
            .wavelength()
            .inMillimetres();
    double turns = present("phaseErrorDeg", request.phaseErrorDeg()) / (360.0 * passes);
    double neededMm = (turns + answer.turns()) * wavelengthMm;
    double exactMm =
        present("currentMm", request.currentMm())
            + neededMm / (geometry.legs() * present("airIndex", request.airIndex()));
    return new Result(request, answer, passes, wavelengthMm, neededMm, exactMm);
  }
}
