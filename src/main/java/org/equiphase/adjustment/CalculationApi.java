package org.equiphase.adjustment;

import static org.equiphase.web.Require.present;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.equiphase.matching.Action;
import org.equiphase.matching.Basis;
import org.equiphase.matching.MemberPlan;
import org.equiphase.matching.Outcome;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetSolution;
import org.equiphase.matching.SetSolver;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Complex;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.LineStretcher;
import org.equiphase.rf.Reflection;
import org.equiphase.rf.StretcherSetting;
import org.equiphase.rf.Trim;
import org.equiphase.rf.VelocityFactor;
import org.jspecify.annotations.Nullable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** The stateless calculations: nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class CalculationApi {

  /** Whether an error is one of insertion phase or of reflection phase. */
  enum ErrorMethod {
    TRANSMISSION(1),
    REFLECTION(2);

    private final int passes;

    ErrorMethod(int passes) {
      this.passes = passes;
    }
  }

  record TrimRequest(
      @Nullable Double frequencyHz,
      @Nullable Double velocityFactor,
      @Nullable Double phaseErrorDeg,
      @Nullable ErrorMethod method) {}

  record TrimAnswer(
      double trimMm,
      double trimIn,
      double electricalLengthMm,
      double delayPs,
      double degreesPerMm) {}

  /** Trim for a phase error; negative when the cable is short by that much. */
  @PostMapping("/trim")
  TrimAnswer trim(@RequestBody TrimRequest request) {
    Trim trim =
        Trim.forPhaseError(
            Frequency.ofHertz(present("frequencyHz", request.frequencyHz)),
            VelocityFactor.of(present("velocityFactor", request.velocityFactor)),
            present("phaseErrorDeg", request.phaseErrorDeg),
            present("method", request.method).passes);
    return new TrimAnswer(
        trim.trimMm(),
        trim.trimIn(),
        trim.electricalLengthMm(),
        trim.delayPs(),
        trim.degreesPerMm());
  }

  record StretcherRequest(
      LineStretcher.@Nullable Geometry geometry,
      @Nullable Double frequencyHz,
      @Nullable Double phaseErrorDeg,
      @Nullable ErrorMethod method,
      @Nullable Double airIndex,
      @Nullable Double minMm,
      @Nullable Double maxMm,
      @Nullable Double resolutionMm,
      @Nullable Double currentMm) {}

  /** The setting that takes a phase error away, rounded to the resolution. */
  @PostMapping("/stretcher")
  StretcherSetting stretcher(@RequestBody StretcherRequest request) {
    return LineStretcher.of(
            present("geometry", request.geometry),
            present("airIndex", request.airIndex),
            present("minMm", request.minMm),
            present("maxMm", request.maxMm),
            present("resolutionMm", request.resolutionMm))
        .solve(
            Frequency.ofHertz(present("frequencyHz", request.frequencyHz)),
            present("phaseErrorDeg", request.phaseErrorDeg),
            present("method", request.method).passes,
            present("currentMm", request.currentMm));
  }

  record Rectangular(@Nullable Double re, @Nullable Double im) {

    static Rectangular of(Complex value) {
      return new Rectangular(value.re(), value.im());
    }
  }

  record ReflectionRequest(
      @Nullable Double frequencyHz,
      @Nullable Double referenceOhm,
      @Nullable Rectangular loadOhm,
      @Nullable Double addedLengthMm,
      @Nullable Double velocityFactor,
      @Nullable Double attenuationDbPerM) {}

  record ReflectionAnswer(
      Rectangular gamma,
      Rectangular impedanceOhm,
      @Nullable Double vswr,
      @Nullable Double returnLossDb,
      double rotationDeg) {}

  /** What a load looks like through an added length of line; null for an infinite value. */
  @PostMapping("/reflection")
  ReflectionAnswer reflection(@RequestBody ReflectionRequest request) {
    Rectangular load = present("loadOhm", request.loadOhm);
    Reflection seen =
        Reflection.throughLine(
            Frequency.ofHertz(present("frequencyHz", request.frequencyHz)),
            present("referenceOhm", request.referenceOhm),
            Complex.of(present("loadOhm.re", load.re), present("loadOhm.im", load.im)),
            Length.ofMillimetres(present("addedLengthMm", request.addedLengthMm)),
            VelocityFactor.of(present("velocityFactor", request.velocityFactor)),
            present("attenuationDbPerM", request.attenuationDbPerM));
    Complex impedance = seen.impedanceOhm();
    return new ReflectionAnswer(
        Rectangular.of(seen.gamma()),
        impedance == null ? new Rectangular(null, null) : Rectangular.of(impedance),
        nullable(seen.vswr()),
        nullable(seen.returnLossDb()),
        seen.rotationDeg());
  }

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
      String reason) {

    static AssemblyAnswer of(MemberPlan plan) {
      return new AssemblyAnswer(
          plan.serial(),
          plan.action(),
          plan.trimMm(),
          plan.stretchMm(),
          plan.predictedErrorDeg(),
          plan.reason().text());
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
            indexed("frequencies", frequencies, CalculationApi::frequency),
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

  private interface Element<T, R> {
    R read(String at, T element);
  }

  private static <T, R> List<R> indexed(
      String field, List<? extends @Nullable T> list, Element<T, R> element) {
    List<R> read = new ArrayList<>();
    for (int i = 0; i < list.size(); i++) {
      String at = field + "[" + i + "]";
      read.add(element.read(at, present(at, list.get(i))));
    }
    return read;
  }

  private static @Nullable Double nullable(OptionalDouble value) {
    return value.isPresent() ? value.getAsDouble() : null;
  }
}
