package org.equiphase.calculator;

import static org.equiphase.web.Require.present;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.calculator.DriftCalculationApi.CheckRequest;
import org.equiphase.calculator.DriftCalculationApi.DriftRequest;
import org.equiphase.calculator.DriftCalculationApi.ReadingAnswer;
import org.equiphase.calculator.DriftCalculationApi.ReadingRequest;
import org.equiphase.metrology.DriftCheck;
import org.equiphase.rf.WrappedPhase;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What a bench's drift adds to readings. */
@Component
@Order(11)
class DriftCalculation implements Calculation {

  private final DriftCalculationApi drifts;

  DriftCalculation(DriftCalculationApi drifts) {
    this.drifts = drifts;
  }

  @Override
  public String name() {
    return "drift";
  }

  @Override
  public String title() {
    return "metrology.drift.title";
  }

  @Override
  public String about() {
    return "metrology.drift.about";
  }

  @Override
  public List<Input> inputs() {
    return List.of(
        Input.of("frequencyMhz", "metrology.drift.frequency", "MHz", "2800").as("frequencyHz"),
        Input.of("baselinePhaseDeg", "metrology.drift.baseline", "°", "-33.20"),
        Input.of("driftLimitDeg", "metrology.drift.limitInput", "°", "0.6"),
        Input.area(
            "checks",
            "metrology.drift.checks",
            "2026-03-02 08:00; -33.18\n2026-03-02 12:00; -32.78"),
        Input.area(
            "readings",
            "metrology.drift.readings",
            "2026-03-02 09:00; 2800; -121.40\n2026-03-02 11:30; 2200; 84.15"));
  }

  /**
   * A reading and its drift, step by step; what needs a check after it is null without one.
   *
   * @param beforeDeg drift at the check before, at the checks' frequency
   * @param changeDeg drift from that check to the next
   * @param fraction share of the time between them
   * @param ratio reading's frequency over the checks'
   */
  record Line(
      double phaseDeg,
      ReadingAnswer answer,
      double beforeDeg,
      @Nullable Double changeDeg,
      @Nullable Double fraction,
      double ratio) {}

  record Result(DriftRequest request, List<Line> lines) {}

  @Override
  public Result calculate(Typed typed) {
    Double hertz = typed.number("frequencyMhz", 1e6);
    Double baseline = typed.number("baselinePhaseDeg");
    Double limit = typed.number("driftLimitDeg");
    List<CheckRequest> checks = new ArrayList<>();
    for (Typed.Row row : typed.rows("checks")) {
      row.atMost(2);
      checks.add(
          new CheckRequest(
              row.time(0, "metrology.drift.cell.time"),
              row.number(1, "metrology.drift.cell.phase")));
    }
    List<ReadingRequest> readings = new ArrayList<>();
    for (Typed.Row row : typed.rows("readings")) {
      row.atMost(3);
      readings.add(
          new ReadingRequest(
              row.time(0, "metrology.drift.cell.time"),
              row.number(1, "calculator.cell.frequency", 1e6),
              row.number(2, "metrology.drift.cell.phase")));
    }
    typed.done();
    DriftRequest request = new DriftRequest(hertz, baseline, limit, checks, readings);
    List<ReadingAnswer> answers = drifts.drift(request).readings();
    List<Line> lines = new ArrayList<>();
    for (int i = 0; i < answers.size(); i++) {
      lines.add(
          line(
              answers.get(i),
              present("phaseDeg", readings.get(i).phaseDeg()),
              present("frequencyMhz", hertz),
              present("baselinePhaseDeg", baseline)));
    }
    return new Result(request, lines);
  }

  private static Line line(
      ReadingAnswer answer, double phaseDeg, double checkedHz, double baselineDeg) {
    DriftCheck before = answer.before();
    DriftCheck after = answer.after();
    return new Line(
        phaseDeg,
        answer,
        WrappedPhase.wrapDeg(before.phaseDeg() - baselineDeg),
        after == null ? null : WrappedPhase.wrapDeg(after.phaseDeg() - before.phaseDeg()),
        after == null ? null : seconds(before.at(), answer.at()) / seconds(before.at(), after.at()),
        answer.frequencyHz() / checkedHz);
  }

  private static double seconds(Instant from, Instant to) {
    return Duration.between(from, to).toMillis() / 1e3;
  }
}
