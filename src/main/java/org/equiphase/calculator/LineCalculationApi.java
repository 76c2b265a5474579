package org.equiphase.calculator;

import static org.equiphase.calculator.Fields.nullable;
import static org.equiphase.web.Require.present;

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

/** Trim, stretcher setting and reflection through a line; nothing is stored. */
@RestController
@RequestMapping("/api/v1/calculations")
class LineCalculationApi {

  /** Whether an error is one of insertion phase or of reflection phase. */
  enum ErrorMethod {
    TRANSMISSION(1),
    REFLECTION(2);

    private final int passes;

    ErrorMethod(int passes) {
      this.passes = passes;
    }

    /** How often the wave passes the line. */
    int passes() {
      return passes;
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
            present("method", request.method).passes());
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
            present("method", request.method).passes(),
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
}
