package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.calculator.LineCalculationApi.Rectangular;
import org.equiphase.calculator.LineCalculationApi.ReflectionAnswer;
import org.equiphase.calculator.LineCalculationApi.ReflectionRequest;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Reflection;
import org.equiphase.web.Figure;
import org.equiphase.web.Format;
import org.equiphase.web.Sentence;
import org.equiphase.web.Texts;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What a load looks like through a line. */
@Component
@Order(4)
class ReflectionCalculation implements Calculation {

  private final LineCalculationApi lines;
  private final Format format;

  ReflectionCalculation(LineCalculationApi lines, Format format) {
    this.lines = lines;
    this.format = format;
  }

  @Override
  public String name() {
    return "reflection";
  }

  @Override
  public String title() {
    return "calculator.reflection.title";
  }

  @Override
  public String about() {
    return "calculator.reflection.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("frequencyMhz", "calculator.frequency", "MHz", "950").as("frequencyHz"),
        Input.of("referenceOhm", "calculator.reflection.reference", "Ω", "50"),
        Input.of("loadReOhm", "calculator.reflection.resistance", "Ω", "100")
            .as("loadOhm.re", "loadOhm"),
        Input.of("loadImOhm", "calculator.reflection.reactance", "Ω", "0").as("loadOhm.im"),
        Input.of("addedLengthMm", "calculator.reflection.addedLength", "mm", "54.83"),
        Input.of("velocityFactor", "calculator.reflection.velocityFactor", null, "0.695"),
        Input.of("attenuationDbPerM", "calculator.reflection.attenuation", "dB/m", "0.25"));
  }

  /** Complex values as people write them; impedance null where it is infinite. */
  record Result(
      ReflectionRequest request,
      ReflectionAnswer answer,
      String load,
      String loadGamma,
      String loadGammaPolar,
      double shrink,
      String gamma,
      String gammaPolar,
      double magnitude,
      @Nullable String impedance) {}

  @Override
  public Result calculate(Typed typed) {
    ReflectionRequest request =
        new ReflectionRequest(
            typed.number("frequencyMhz", 1e6),
            typed.number("referenceOhm"),
            new Rectangular(typed.number("loadReOhm"), typed.number("loadImOhm")),
            typed.number("addedLengthMm"),
            typed.number("velocityFactor"),
            typed.number("attenuationDbPerM"));
    typed.done();
    ReflectionAnswer answer = lines.reflection(request);
    Complex load = complex(present("loadOhm", request.loadOhm()));
    Complex loadGamma =
        Reflection.gammaOfLoad(load, present("referenceOhm", request.referenceOhm()));
    Complex gamma = complex(answer.gamma());
    double metres = present("addedLengthMm", request.addedLengthMm()) / 1e3;
    double lossDb = 2 * present("attenuationDbPerM", request.attenuationDbPerM()) * metres;
    return new Result(
        request,
        answer,
        rectangular(load, 3),
        rectangular(loadGamma, 6),
        polar(loadGamma),
        Math.pow(10, -lossDb / 20),
        rectangular(gamma, 6),
        polar(gamma),
        gamma.abs(),
        answer.impedanceOhm().re() == null ? null : rectangular(complex(answer.impedanceOhm()), 3));
  }

  private static Complex complex(Rectangular value) {
    return Complex.of(present("re", value.re()), present("im", value.im()));
  }

  private String rectangular(Complex value, int decimals) {
    String im = format.decimals(value.im(), decimals);
    boolean negative = im.startsWith("−");
    return format.decimals(value.re(), decimals)
        + (negative ? " − j" + im.substring(1) : " + j" + im);
  }

  private String polar(Complex value) {
    return Texts.say(
        Sentence.of(
            "calculator.reflection.polar",
            Figure.of(value.abs(), 6),
            Figure.of(value.argumentDeg(), 3)));
  }
}
