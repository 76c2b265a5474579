package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.indexed;
import static org.equiphase.web.Require.present;

import java.util.List;
import org.equiphase.matching.Action;
import org.equiphase.matching.Basis;
import org.equiphase.matching.MemberPlan;
import org.equiphase.matching.Outcome;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.matching.Turns;
import org.equiphase.web.ReasonWords;
import org.equiphase.web.Sentence;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** The set adjustment problem; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class SetCalculationApi {

  record FrequencyRequest(
      @Nullable Double frequencyHz, @Nullable Double toleranceDeg, @Nullable Double guardDeg) {}

  record StretchRequest(@Nullable Double minMm, @Nullable Double maxMm) {}

  record AssemblyRequest(
      @Nullable String serial,
      @Nullable Double velocityFactor,
      @Nullable List<@Nullable Double> phaseErrorDeg,
      @Nullable Double trimAllowanceMm,
      @Nullable StretchRequest stretcher) {}

  record SetAdjustmentRequest(
      @Nullable Basis basis,
      @Nullable String masterSerial,
      @Nullable Turns turns,
      @Nullable Double velocityFactor,
      @Nullable Double aimFraction,
      @Nullable List<FrequencyRequest> frequencies,
      @Nullable List<AssemblyRequest> assemblies) {}

  record AssemblyAnswer(
      String serial,
      Action action,
      double trimMm,
      double stretchMm,
      List<Double> predictedErrorDeg,
      Sentence reason) {

    static AssemblyAnswer of(MemberPlan plan) {
      return new AssemblyAnswer(
          plan.serial(),
          plan.action(),
          plan.trimMm(),
          plan.stretchMm(),
          plan.predictedErrorDeg(),
          ReasonWords.of(plan.reason()));
    }
  }

  record SetAdjustmentAnswer(
      Outcome outcome,
      List<Double> centerDeg,
      int replaced,
      int adjusted,
      double totalTrimMm,
      boolean proven,
      List<AssemblyAnswer> assemblies) {}

  /** Which members of a set to trim, stretch or replace so that all agree in phase. */
  @PostMapping("/set-adjustment")
  SetAdjustmentAnswer setAdjustment(@RequestBody SetAdjustmentRequest request) {
    List<FrequencyRequest> frequencies = present("frequencies", request.frequencies);
    List<AssemblyRequest> assemblies = present("assemblies", request.assemblies);
    SetProblem problem =
        new SetProblem(
            present("basis", request.basis),
            request.masterSerial,
            present("turns", request.turns),
            present("aimFraction", request.aimFraction),
            indexed("frequencies", frequencies, SetCalculationApi::frequency),
            indexed("assemblies", assemblies, (at, a) -> member(at, a, request.velocityFactor)));
    SetSolution solution = SetSolver.solve(problem);
    return new SetAdjustmentAnswer(
        solution.outcome(),
        solution.centerDeg(),
        solution.replaced(),
        solution.adjusted(),
        solution.totalTrimMm(),
        solution.proven(),
        solution.assemblies().stream().map(AssemblyAnswer::of).toList());
  }

  private static SetProblem.FrequencyLimit frequency(String at, FrequencyRequest f) {
    return new SetProblem.FrequencyLimit(
        present(at + ".frequencyHz", f.frequencyHz),
        present(at + ".toleranceDeg", f.toleranceDeg),
        present(at + ".guardDeg", f.guardDeg));
  }

  private static SetProblem.Member member(
      String at, AssemblyRequest a, @Nullable Double commonVelocityFactor) {
    List<@Nullable Double> errors = present(at + ".phaseErrorDeg", a.phaseErrorDeg);
    StretchRequest stretch = a.stretcher;
    return new SetProblem.Member(
        present(at + ".serial", a.serial),
        a.velocityFactor == null
            ? present("velocityFactor", commonVelocityFactor)
            : a.velocityFactor,
        indexed(at + ".phaseErrorDeg", errors, (field, error) -> error),
        a.trimAllowanceMm == null && stretch != null
            ? 0
            : present(at + ".trimAllowanceMm", a.trimAllowanceMm),
        stretch == null
            ? null
            : new SetProblem.StretchRange(
                present(at + ".stretcher.minMm", stretch.minMm),
                present(at + ".stretcher.maxMm", stretch.maxMm)));
  }
}
