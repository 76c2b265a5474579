package org.equiphase.process;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.time.Instant;
import java.util.List;
import java.util.Objects;
import org.equiphase.web.Require;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springdoc.core.annotations.ParameterObject;
import org.springframework.http.HttpStatus;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;

/** How the process runs, for machine clients. */
@RestController
@RequestMapping("/api/v1/process")
@Tag(name = "Process")
class ProcessApi {

  private final ProcessReports reports;
  private final ControlCharts charts;
  private final ControlLimits limits;

  ProcessApi(ProcessReports reports, ControlCharts charts, ControlLimits limits) {
    this.reports = reports;
    this.charts = charts;
    this.limits = limits;
  }

  /**
   * A control chart with its capability.
   *
   * @param unit deg, mm or db: that of values and limits
   * @param spread null with fewer than two values
   */
  record Answer(
      Characteristic characteristic,
      String unit,
      @Nullable Selection selection,
      ControlChart.@Nullable Baseline baseline,
      ControlChart.@Nullable Limits limits,
      List<AnswerPoint> points,
      boolean older,
      ControlChart.@Nullable SmallShifts smallShifts,
      @Nullable KeptLimits lastDecided,
      @Nullable Spread spread) {}

  /** A value; {@code patterns} says in English what it completes. */
  record AnswerPoint(
      ProcessValue value,
      @Nullable Double movingRange,
      List<String> rules,
      List<Sentence> patterns) {}

  /**
   * What a client asks to be kept.
   *
   * @param withdraw true to take kept limits back
   * @param from and to: times of the first and last value of the baseline
   * @param count how many values the client saw there
   * @param lastId id of what was decided last; null for nothing
   */
  record LimitsRequest(
      @Nullable Boolean withdraw,
      @Nullable Characteristic characteristic,
      @Nullable Long cableType,
      @Nullable Long bench,
      @Nullable String person,
      @Nullable String lot,
      @Nullable String order,
      @Nullable Long series,
      @Nullable Instant from,
      @Nullable Instant to,
      @Nullable Integer count,
      @Nullable Long lastId,
      @Nullable String note) {

    ChartFilter filter() {
      return new ChartFilter(
          Require.present("characteristic", characteristic),
          cableType,
          bench,
          person,
          lot,
          order,
          Require.present("series", series),
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          null,
          null);
    }
  }

  @GetMapping("/series")
  @Operation(summary = "The frequencies, or reference cables, of a characteristic")
  List<Series> series(@RequestParam Characteristic characteristic) {
    return charts.series(characteristic);
  }

  @GetMapping("/chart")
  @Operation(summary = "A control chart of the newest values, the oldest of them first")
  Answer chart(@ModelAttribute @ParameterObject ChartFilter filter) {
    ControlChart chart = reports.chart(filter);
    return new Answer(
        chart.characteristic(),
        chart.characteristic().unit(),
        chart.selection(),
        chart.baseline(),
        chart.limits(),
        chart.points().stream()
            .map(
                p ->
                    new AnswerPoint(
                        p.value(),
                        p.movingRange(),
                        p.signals().stream().map(s -> s.rule().name()).toList(),
                        p.words()))
            .toList(),
        chart.older(),
        chart.smallShifts(),
        chart.last(),
        Spread.of(chart));
  }

  @PostMapping("/limits")
  @ResponseStatus(HttpStatus.CREATED)
  @Operation(summary = "Keeps the limits that a baseline gives, or withdraws kept ones")
  KeptLimits limits(@RequestBody LimitsRequest request) {
    String note = Objects.requireNonNullElse(request.note, "");
    return Boolean.TRUE.equals(request.withdraw)
        ? limits.withdraw(request.filter(), request.lastId, note)
        : limits.keep(
            request.filter(),
            Require.present("from", request.from),
            Require.present("to", request.to),
            Require.present("count", request.count),
            request.lastId,
            note);
  }

  @GetMapping("/yield")
  @Operation(summary = "First-pass yield with its 95 % bounds")
  Yield firstPass(@ModelAttribute @ParameterObject ChartFilter filter) {
    return reports.firstPass(filter);
  }

  @GetMapping("/causes")
  @Operation(summary = "Why assemblies were held or out, the most frequent cause first")
  Pareto causes(@ModelAttribute @ParameterObject ChartFilter filter) {
    return reports.causes(filter);
  }

  @GetMapping("/velocity")
  @Operation(summary = "Velocity factors of lots against the catalog")
  List<LotVelocities> velocity(@ModelAttribute @ParameterObject ChartFilter filter) {
    return reports.velocities(filter);
  }
}
