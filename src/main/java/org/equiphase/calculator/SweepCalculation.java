package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.calculator.SweepCalculationApi.SpotAnswer;
import org.equiphase.calculator.SweepCalculationApi.SweepAnswer;
import org.equiphase.rf.Method;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.multipart.MultipartFile;

/** What a sweep says of a cable. */
@Component
@Order(2)
class SweepCalculation implements Calculation {

  private final SweepCalculationApi sweeps;

  SweepCalculation(SweepCalculationApi sweeps) {
    this.sweeps = sweeps;
  }

  @Override
  public String name() {
    return "sweep";
  }

  @Override
  public String title() {
    return "calculator.sweep.title";
  }

  @Override
  public String about() {
    return "calculator.sweep.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.file("file", "calculator.sweep.file"),
        Input.choice(
            "method",
            "calculator.measuredIn",
            "TRANSMISSION",
            "calculator.sweep.transmission",
            "REFLECTION_SHORT",
            "calculator.sweep.short",
            "REFLECTION_OPEN",
            "calculator.sweep.open"),
        Input.of("velocityFactor", "calculator.velocityFactor", null, "0.695"),
        Input.of("expectedLengthM", "calculator.sweep.expectedLength", "m", "1.6").orEmpty(),
        Input.area("spotsMhz", "calculator.sweep.spots", "2200\n2800").as("spotHz").orEmpty());
  }

  /**
   * A spot and its whole turns.
   *
   * @param turns whole turns between wrapped and total phase; null where they are unknown
   */
  record Spot(SpotAnswer answer, @Nullable Double turns) {}

  /**
   * Sizes between the steps of the sum.
   *
   * @param passes how often the wave passes the cable
   * @param stepHz mean distance of the points
   * @param widestStepHz distance below which the phase can be unwrapped
   * @param slopeDegPerGhz slope of the straight line through the one-way phase
   * @param missedTurns distance of its value at 0 Hz from a whole number of turns
   */
  record Result(
      SweepAnswer answer,
      double velocityFactor,
      int passes,
      double stepHz,
      double widestStepHz,
      double slopeDegPerGhz,
      double missedTurns,
      List<Spot> spots) {}

  @Override
  public Result calculate(Typed typed) {
    MultipartFile file = typed.file("file");
    Method chosen = typed.choice("method", Method.class);
    Double factor = typed.number("velocityFactor");
    Double expectedLengthM = typed.optional("expectedLengthM");
    List<Double> spotHz =
        typed.text("spotsMhz").isBlank()
            ? List.of()
            : typed.rows("spotsMhz").stream()
                .map(row -> row.number(0, "calculator.cell.frequency", 1e6))
                .filter(Objects::nonNull)
                .toList();
    typed.done();
    double velocityFactor = present("velocityFactor", factor);
    Method method = present("method", chosen);
    int passes = method.passes();
    SweepAnswer answer =
        read(present("file", file), method, velocityFactor, spotHz, expectedLengthM);
    List<Spot> spots = new ArrayList<>();
    for (SpotAnswer spot : answer.spots()) {
      Double total = spot.totalPhaseDeg();
      spots.add(
          new Spot(spot, total == null ? null : Math.rint((spot.wrappedPhaseDeg() - total) / 360)));
    }
    double step = (answer.stopHz() - answer.startHz()) / Math.max(1, answer.points() - 1);
    return new Result(
        answer,
        velocityFactor,
        passes,
        step,
        1e9 / (2 * passes * answer.delayNs()),
        -360 * answer.delayNs(),
        (1 - answer.turnsConfidence()) / 2,
        spots);
  }

  private SweepAnswer read(
      MultipartFile file,
      Method method,
      double velocityFactor,
      List<Double> spotHz,
      @Nullable Double expectedLengthM) {
    try {
      return sweeps.sweep(file, method, velocityFactor, spotHz, expectedLengthM);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
