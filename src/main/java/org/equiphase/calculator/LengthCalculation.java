package org.equiphase.calculator;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.equiphase.calculator.LineCalculationApi.ErrorMethod;
import org.equiphase.calculator.LineCalculationApi.TrimAnswer;
import org.equiphase.calculator.LineCalculationApi.TrimRequest;
import org.equiphase.rf.Delay;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.Trim;
import org.equiphase.rf.VelocityFactor;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Require;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What a phase error, a length and a delay are of one another. */
@Component
@Order(1)
class LengthCalculation implements Calculation {

  private final LineCalculationApi lines;

  LengthCalculation(LineCalculationApi lines) {
    this.lines = lines;
  }

  @Override
  public String name() {
    return "length";
  }

  @Override
  public String title() {
    return "calculator.length.title";
  }

  @Override
  public String about() {
    return "calculator.length.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("frequencyMhz", "calculator.frequency", "MHz", "2800").as("frequencyHz"),
        Input.of("velocityFactor", "calculator.velocityFactor", null, "0.695"),
        Input.choice(
            "method",
            "calculator.measuredIn",
            "TRANSMISSION",
            "calculator.oneWay",
            "REFLECTION",
            "calculator.twoWays"),
        Input.of("phaseErrorDeg", "calculator.length.phaseError", "°", "-12.3"),
        Input.of("lengthMm", "calculator.length.byLength", "mm", "1").as("trimM"),
        Input.of("delayPs", "calculator.length.byDelay", "ps", "4.8").as("delayS"));
  }

  @Override
  public Map<String, String> example() {
    Map<String, String> example = new LinkedHashMap<>(Calculation.super.example());
    example.remove("lengthMm");
    example.remove("delayPs");
    return example;
  }

  /** Length and delay are null unless they were given in place of the phase error. */
  record Result(
      double frequencyHz,
      double velocityFactor,
      int passes,
      double phaseErrorDeg,
      @Nullable Double lengthMm,
      @Nullable Double delayPs,
      TrimAnswer answer) {}

  @Override
  public Result calculate(Typed typed) {
    Double hertz = typed.number("frequencyMhz", 1e6);
    Double factor = typed.number("velocityFactor");
    ErrorMethod method = typed.choice("method", ErrorMethod.class);
    Double phaseErrorDeg = typed.optional("phaseErrorDeg");
    Double lengthMm = typed.optional("lengthMm");
    Double delayPs = typed.optional("delayPs");
    typed.done();
    if (Stream.of(phaseErrorDeg, lengthMm, delayPs).filter(Objects::nonNull).count() != 1) {
      throw InvalidInputException.of("phaseErrorDeg", Sentence.of("calculator.length.giveOne"));
    }
    Frequency frequency = Frequency.ofHertz(Require.present("frequencyMhz", hertz));
    VelocityFactor velocity = VelocityFactor.of(Require.present("velocityFactor", factor));
    int passes = Require.present("method", method).passes();
    double error;
    if (lengthMm != null) {
      Length length = Length.ofMillimetres(lengthMm);
      error = -Trim.phaseShiftDeg(length, frequency, velocity, passes);
    } else if (delayPs != null) {
      error = passes * Delay.ofPicoseconds(delayPs).insertionPhase(frequency).degrees();
    } else {
      error = Require.present("phaseErrorDeg", phaseErrorDeg);
    }
    TrimAnswer answer =
        lines.trim(new TrimRequest(frequency.hertz(), velocity.value(), error, method));
    return new Result(
        frequency.hertz(), velocity.value(), passes, error, lengthMm, delayPs, answer);
  }
}
