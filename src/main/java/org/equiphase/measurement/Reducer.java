package org.equiphase.measurement;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.OptionalDouble;
import org.equiphase.catalog.Bench;
import org.equiphase.catalog.Budget;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.LineStretcher;
import org.equiphase.measurement.Reading.Spot;
import org.equiphase.measurement.TypedReading.TypedSpot;
import org.equiphase.metrology.PhaseUncertainty;
import org.equiphase.metrology.UncertaintyBudget;
import org.equiphase.rf.EndStandard;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.Length;
import org.equiphase.rf.Method;
import org.equiphase.rf.PhaseTemperatureCurve;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.rf.ReferencePlane;
import org.equiphase.rf.SpotReading;
import org.equiphase.rf.Sweep;
import org.equiphase.rf.SweepAnalysis;
import org.equiphase.rf.SweepAnalyzer;
import org.equiphase.rf.SweepSettings;
import org.equiphase.rf.TurnsAtOneFrequency;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.rf.touchstone.TouchstoneFile;
import org.equiphase.web.Checks;
import org.equiphase.web.Digits;
import org.equiphase.web.InvalidInputException;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/**
 * Brings what an instrument shows to the assembly: end standard and adapters off, whole turns
 * counted, temperature brought to the order's reference.
 */
final class Reducer {

  private static final double SAME_FREQUENCY = 1e-9;

  private final Specification specification;
  private final CableType cable;
  private final Bench bench;
  private final double stretcherElectricalM;
  private final @Nullable PhaseTemperatureCurve curve;

  Reducer(
      Specification specification,
      CableType cable,
      @Nullable LineStretcher stretcher,
      @Nullable Double stretcherSettingMm,
      Bench bench) {
    this.specification = specification;
    this.cable = cable;
    this.bench = bench;
    this.stretcherElectricalM =
        stretcher == null || stretcherSettingMm == null
            ? 0
            : stretcher.toRf().electricalLengthMm(stretcherSettingMm) / 1e3;
    this.curve = cable.phaseTemperatureCurve().orElse(null);
  }

  /**
   * Phases typed in, one per frequency of the specification.
   *
   * @throws InvalidInputException naming the spots that are missing, not asked for, or out of range
   */
  Reduction typed(TypedReading typed) {
    Method method = typed.method() == null ? specification.method() : typed.method();
    EndStandard end = endStandard(method);
    ReferencePlane plane = bench.referencePlane();
    List<TypedSpot> ordered = inOrder(typed.spots());
    List<Spot> spots = new ArrayList<>();
    boolean ambiguous = false;
    for (TypedSpot spot : ordered) {
      Frequency frequency = Frequency.ofHertz(spot.frequencyHz());
      double endDeg =
          method.isReflection() ? end.phaseDeg(frequency.hertz(), cable.impedanceOhm()) : 0;
      double fixtureDeg = endDeg + method.passes() * plane.phaseDeg(frequency.hertz());
      TurnsAtOneFrequency turns =
          TurnsAtOneFrequency.resolve(
              frequency,
              method,
              spot.phaseDeg(),
              fixtureDeg,
              cable.nominalVelocityFactor(),
              expectedLength(),
              expectedLengthUncertainty());
      ambiguous |= turns.ambiguous();
      Double lossDb = spot.insertionLossDb();
      spots.add(
          spot(
              method,
              frequency.hertz(),
              WrappedPhase.wrapDeg(spot.phaseDeg()),
              (fixtureDeg - method.idealEndPhaseDeg()) / method.passes(),
              turns.totalPhaseDeg(),
              turns.phaseDeg(),
              typed.temperatureC(),
              lossDb == null ? null : lossDb - plane.lossDb(frequency.hertz()),
              spot.vswr()));
    }
    return new Reduction(
        method,
        spots,
        ambiguous ? 360.0 / method.passes() : null,
        null,
        null,
        null,
        null,
        null,
        largestUncertaintyDeg(spots),
        null);
  }

  /** A sweep read from a file, by the order's method. */
  Reduction sweep(TouchstoneFile file, double temperatureC) {
    Method method = specification.method();
    List<Double> spotHz =
        specification.frequencies().stream().map(FrequencySpecification::frequencyHz).toList();
    SweepAnalysis analysis = analyse(method, file.sweep(method), spotHz);
    List<Spot> spots = new ArrayList<>();
    for (SpotReading s : analysis.spots()) {
      double correctionDeg = correctionDeg(method, s.frequencyHz(), file.referenceOhms()[0]);
      spots.add(
          spot(
              method,
              s.frequencyHz(),
              shownDeg(method, s, correctionDeg),
              correctionDeg,
              s.totalPhaseDeg(),
              s.wrappedPhaseDeg(),
              temperatureC,
              s.insertionLossDb(),
              s.vswr().isPresent() ? s.vswr().getAsDouble() : null));
    }
    return new Reduction(
        method,
        spots,
        analysis.turns().isPresent() ? null : 360.0 / method.passes(),
        analysis.turnsConfidence(),
        analysis.delay().seconds() * 1e9,
        analysis.fitResidualDeg(),
        analysis.worstResidualHz(),
        analysis.worstResidualDeg(),
        largestUncertaintyDeg(spots),
        StoredSweep.of(file, method));
  }

  /** The phase that the instrument shows at one frequency of a sweep, in (−180, 180]. */
  double shownDeg(Sweep sweep, double frequencyHz) {
    Method method = specification.method();
    SpotReading spot = analyse(method, sweep, List.of(frequencyHz)).spots().get(0);
    return shownDeg(method, spot, correctionDeg(method, frequencyHz, sweep.referenceOhm()));
  }

  private static double shownDeg(Method method, SpotReading spot, double correctionDeg) {
    return WrappedPhase.wrapDeg(
        (spot.totalPhaseDeg().orElse(spot.wrappedPhaseDeg()) + correctionDeg) * method.passes()
            + method.idealEndPhaseDeg());
  }

  /** One-way phase of end standard and adapters, beyond the ideal end's. */
  private double correctionDeg(Method method, double frequencyHz, double referenceOhm) {
    double endDeg =
        method.isReflection() ? endStandard(method).phaseDeg(frequencyHz, referenceOhm) : 0;
    return (endDeg - method.idealEndPhaseDeg()) / method.passes()
        + bench.referencePlane().phaseDeg(frequencyHz);
  }

  /** What a sweep says of the assembly, before its temperature is looked at. */
  SweepAnalysis analyse(Method method, Sweep sweep, List<Double> spotHz) {
    return SweepAnalyzer.analyse(
        sweep,
        SweepSettings.of(method, cable.nominalVelocityFactor())
            .withExpectedLength(expectedLength(), expectedLengthUncertainty())
            .withEndStandard(method.isReflection() ? endStandard(method) : null)
            .withReferencePlane(bench.referencePlane())
            .withSpotsHz(spotHz));
  }

  private Spot spot(
      Method method,
      double frequencyHz,
      double measuredDeg,
      double planeCorrectionDeg,
      OptionalDouble totalDeg,
      double wrappedDeg,
      double temperatureC,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {
    double stretcherDeg = -degreesPerElectricalMetre(frequencyHz) * stretcherElectricalM;
    double expectedCableDeg =
        -degreesPerElectricalMetre(frequencyHz)
            * (specification.nominalLengthMm() / 1e3 / cable.velocityFactor());
    double cableDeg =
        totalDeg.isPresent() ? totalDeg.getAsDouble() - stretcherDeg : expectedCableDeg;
    double temperatureDeg =
        curve == null
            ? 0
            : curve.correctDeg(cableDeg, temperatureC, specification.referenceTemperatureC())
                - cableDeg;
    double phaseDeg =
        totalDeg.isPresent()
            ? totalDeg.getAsDouble() + temperatureDeg
            : wrappedDeg + temperatureDeg;
    return new Spot(
        frequencyHz,
        measuredDeg,
        planeCorrectionDeg,
        temperatureDeg,
        phaseDeg,
        uncertainty(method, cableDeg, temperatureC),
        insertionLossDb,
        vswr);
  }

  private List<TypedSpot> inOrder(List<TypedSpot> spots) {
    Checks checks = new Checks();
    List<TypedSpot> ordered = new ArrayList<>();
    for (FrequencySpecification wanted : specification.frequencies()) {
      List<TypedSpot> found =
          spots.stream().filter(s -> same(s.frequencyHz(), wanted.frequencyHz())).toList();
      if (found.size() == 1) {
        ordered.add(found.get(0));
      } else {
        checks.problem(
            "spots",
            Sentence.of("reading.phasesAt", found.size(), Digits.of(wanted.frequencyHz())));
      }
    }
    for (int i = 0; i < spots.size(); i++) {
      TypedSpot spot = spots.get(i);
      String at = "spots[" + i + "].";
      checks.inRange(at + "phaseDeg", spot.phaseDeg(), -1e6, 1e6);
      if (spot.insertionLossDb() != null) {
        checks.inRange(at + "insertionLossDb", spot.insertionLossDb(), 0, 1000);
      }
      if (spot.vswr() != null) {
        checks.inRange(at + "vswr", spot.vswr(), 1, 1e6);
      }
      if (specification.frequencies().stream()
          .noneMatch(f -> same(f.frequencyHz(), spot.frequencyHz()))) {
        checks.problem(
            at + "frequencyHz", Sentence.of("reading.notAskedFor", Digits.of(spot.frequencyHz())));
      }
    }
    checks.done();
    return ordered;
  }

  private static boolean same(double aHz, double bHz) {
    return Math.abs(aHz - bHz) <= SAME_FREQUENCY * bHz;
  }

  private EndStandard endStandard(Method method) {
    if (!method.isReflection() || bench.endStandard() == null) {
      return EndStandard.idealFor(method);
    }
    EndStandard standard = Objects.requireNonNull(bench.endStandard()).toRf();
    if (standard.kind() != EndStandard.idealFor(method).kind()) {
      throw InvalidInputException.of(
          "benchId",
          Sentence.of(
              "reading.otherEnd",
              bench.name(),
              Objects.requireNonNull(bench.endStandard()).name(),
              method.toString()));
    }
    return standard;
  }

  /** One-way standard uncertainties: an error of the shown phase counts by its passes. */
  private SpotUncertainty uncertainty(Method method, double cableDeg, double temperatureC) {
    Budget budget = bench.budget(method);
    Double magnitudeDb = budget.instrumentMagnitudeDb();
    double instrumentDeg =
        magnitudeDb == null
            ? bench.instrument().phaseStandardUncertaintyDeg()
            : PhaseUncertainty.ofMagnitudeDeg(magnitudeDb)
                / UncertaintyBudget.USUAL_COVERAGE_FACTOR;
    double perKelvin =
        curve == null
            ? 0
            : curve.steepestPpmPerC(
                    temperatureC - budget.temperatureC(), temperatureC + budget.temperatureC())
                * 1e-6;
    return new SpotUncertainty(
        instrumentDeg / method.passes(),
        budget.connectorDeg() / method.passes(),
        budget.flexureDeg() / method.passes(),
        Math.abs(cableDeg) * perKelvin * budget.temperatureC());
  }

  private static double largestUncertaintyDeg(List<Spot> spots) {
    return spots.stream().mapToDouble(s -> s.uncertainty().combinedDeg()).max().orElse(0);
  }

  /** The finished cable and, as cable of the same delay, the stretcher at its present reading. */
  private Length expectedLength() {
    return Length.ofMetres(
        specification.nominalLengthMm() / 1e3 + stretcherElectricalM * cable.velocityFactor());
  }

  private Length expectedLengthUncertainty() {
    double spread = cable.velocityFactorTolerance() / cable.velocityFactor();
    return Length.ofMillimetres(
        specification.nominalLengthToleranceMm() + specification.nominalLengthMm() * spread);
  }

  private static double degreesPerElectricalMetre(double frequencyHz) {
    return 360 * frequencyHz / PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
  }
}
