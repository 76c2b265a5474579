package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.calculator.Fields.located;
import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.matching.AmplitudeCheck;
import org.equiphase.matching.AmplitudeCheck.Agreement;
import org.equiphase.rf.PhaseTemperatureCurve;
import org.equiphase.rf.TemperatureTracking;
import org.equiphase.rf.TemperatureTracking.Spread;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** How the cables of a set go together in loss and with temperature; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class SetAgreementCalculationApi {

  record PointRequest(@Nullable Double temperatureC, @Nullable Double lengthPpm) {}

  record CableRequest(@Nullable List<PointRequest> curve, @Nullable Double totalPhaseDeg) {}

  record TrackingRequest(
      @Nullable List<CableRequest> cables,
      @Nullable Double referenceC,
      @Nullable Double lowC,
      @Nullable Double highC) {}

  /** How far cables that agree at the reference temperature come apart over a range. */
  @PostMapping("/temperature-tracking")
  Spread temperatureTracking(@RequestBody TrackingRequest request) {
    return TemperatureTracking.greatest(
        indexed("cables", present("cables", request.cables), SetAgreementCalculationApi::cable),
        present("referenceC", request.referenceC),
        present("lowC", request.lowC),
        present("highC", request.highC));
  }

  private static TemperatureTracking.Cable cable(String at, CableRequest cable) {
    List<double[]> points =
        indexed(
            at + ".curve",
            present(at + ".curve", cable.curve),
            (String point, PointRequest p) ->
                new double[] {
                  present(point + ".temperatureC", p.temperatureC),
                  present(point + ".lengthPpm", p.lengthPpm)
                });
    return new TemperatureTracking.Cable(
        located(
            at,
            () ->
                PhaseTemperatureCurve.of(
                    points.stream().mapToDouble(p -> p[0]).toArray(),
                    points.stream().mapToDouble(p -> p[1]).toArray())),
        present(at + ".totalPhaseDeg", cable.totalPhaseDeg));
  }

  record LossLimitRequest(@Nullable Double frequencyHz, @Nullable Double spreadLimitDb) {}

  record LossRequest(@Nullable String serial, @Nullable List<Double> lossDb) {}

  record AgreementRequest(
      @Nullable List<LossLimitRequest> limits, @Nullable List<LossRequest> members) {}

  /** Which members of a set agree in insertion loss. */
  @PostMapping("/loss-agreement")
  Agreement lossAgreement(@RequestBody AgreementRequest request) {
    return AmplitudeCheck.check(
        indexed(
            "limits",
            present("limits", request.limits),
            (String at, LossLimitRequest limit) ->
                new AmplitudeCheck.LossLimit(
                    present(at + ".frequencyHz", limit.frequencyHz), limit.spreadLimitDb)),
        indexed(
            "members",
            present("members", request.members),
            (String at, LossRequest member) ->
                new AmplitudeCheck.Member(
                    present(at + ".serial", member.serial),
                    indexed(
                        at + ".lossDb",
                        present(at + ".lossDb", member.lossDb),
                        (String field, Double loss) -> loss))));
  }
}
