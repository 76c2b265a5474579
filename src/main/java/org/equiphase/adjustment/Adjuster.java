package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.catalog.CableType;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.CutPlan;
import org.equiphase.matching.CutPlanner;
import org.equiphase.matching.CutProblem;
import org.equiphase.matching.MemberPlan;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.matching.SetProblem.StretchRange;
import org.equiphase.matching.Turns;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.metrology.Distribution;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.LineStretcher;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.web.Digits;
import org.equiphase.web.ReasonWords;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** Turns planned lengths into cuts and settings that a person can make. */
final class Adjuster {

  private static final double MM_PER_M = 1e3;

  private final Specification specification;
  private final CableType cable;
  private final VelocityFactorEstimate velocity;
  private final Stretchers stretchers;

  /**
   * @param velocity of the cable that is cut; the nominal phase goes by the catalog's value
   */
  Adjuster(
      Specification specification,
      CableType cable,
      VelocityFactorEstimate velocity,
      Stretchers stretchers) {
    this.specification = specification;
    this.cable = cable;
    this.velocity = velocity;
    this.stretchers = stretchers;
  }

  /** With the catalog's velocity factor, for assemblies without a stretcher of their own. */
  static Adjuster ofCatalog(Specification specification, Catalog catalog) {
    CableType cable = catalog.cableType(specification.cableTypeId());
    return new Adjuster(
        specification,
        cable,
        VelocityFactorEstimate.ofTolerance(cable.velocityFactor(), cable.velocityFactorTolerance()),
        Stretchers.of(specification, List.of(), catalog));
  }

  Specification specification() {
    return specification;
  }

  /** Insertion phase that a nominal assembly has, its stretcher where it was fitted. */
  double nominalPhaseDeg(FrequencySpecification frequency) {
    Double given = frequency.nominalPhaseDeg();
    if (given != null) {
      return given;
    }
    Double delayNs = specification.nominalDelayNs();
    double delayS = delayNs != null ? delayNs * 1e-9 : nominalElectricalM() / c();
    return -360 * frequency.frequencyHz() * delayS;
  }

  private double nominalElectricalM() {
    LineStretcher fitted = stretchers.ofOrder();
    double stretcherMm =
        fitted == null
            ? 0
            : fitted.electricalLengthMm(Objects.requireNonNull(specification.stretcherStartMm()));
    return (specification.nominalLengthMm() / cable.velocityFactor() + stretcherMm) / MM_PER_M;
  }

  /** An error without the turns that do not count. */
  double wrap(double errorDeg) {
    return specification.turns() == Turns.MODULO_360 ? WrappedPhase.wrapDeg(errorDeg) : errorDeg;
  }

  /** The member as the matching problem sees it. */
  SetProblem.Member member(Assembly assembly, List<Double> errorDeg) {
    return new SetProblem.Member(
        assembly.serial(),
        velocity.velocityFactor(),
        errorDeg,
        allowanceMm(assembly),
        stretchRange(assembly));
  }

  private double allowanceMm(Assembly assembly) {
    double allowedMm = specification.trimAllowanceMm() + assembly.terms().extraTrimMm();
    return Math.max(0, allowedMm - assembly.trimmedMm());
  }

  private double tooShortLimit(Assembly assembly) {
    return Objects.requireNonNullElse(
        assembly.terms().tooShortLimit(), specification.tooShortLimit());
  }

  private @Nullable StretchRange stretchRange(Assembly assembly) {
    Double currentMm = assembly.stretcherSettingMm();
    LineStretcher stretcher = stretchers.of(assembly);
    if (stretcher == null || currentMm == null) {
      return null;
    }
    double toLow = stretcher.addedElectricalLengthMm(currentMm, stretcher.lowestSettingMm());
    double toHigh = stretcher.addedElectricalLengthMm(currentMm, stretcher.highestSettingMm());
    return new StretchRange(Math.min(toLow, toHigh), Math.max(toLow, toHigh));
  }

  /**
   * The planned adjustment, such as a person can make it.
   *
   * @param limits what is accepted at each frequency
   * @param uncertainty of the member's errors
   */
  Adjustment planned(
      Usable usable,
      MemberPlan plan,
      List<Double> centerDeg,
      List<FrequencyLimit> limits,
      ErrorUncertainty uncertainty) {
    return switch (plan.action()) {
      case NONE -> Adjustment.none(ReasonWords.of(plan.reason()));
      case REPLACE -> Adjustment.hold(ReasonWords.of(plan.reason()));
      case TRIM -> trim(usable, plan, limits, uncertainty);
      case STRETCH -> stretch(usable, plan, centerDeg);
    };
  }

  /** What was signed off as really cut or set since the reading, taken together. */
  Adjustment done(Assembly assembly, List<Instruction> doneSince) {
    double shortenedMm = 0;
    double uncertainMm = 0;
    for (Instruction instruction : doneSince) {
      double electricalMm = shortenedElectricalMm(assembly, instruction);
      shortenedMm += electricalMm;
      uncertainMm =
          Math.hypot(
              uncertainMm,
              instruction.action() == Instruction.Action.TRIM
                  ? uncertainCutElectricalMm(electricalMm)
                  : uncertainSettingElectricalMm(assembly));
    }
    return Adjustment.none(Sentence.of("reason.adjustedSince")).shortened(shortenedMm, uncertainMm);
  }

  private double shortenedElectricalMm(Assembly assembly, Instruction instruction) {
    Instruction.Done done = Objects.requireNonNull(instruction.done());
    Double trimMm = done.trimMm();
    if (trimMm != null) {
      return trimMm / velocity.velocityFactor();
    }
    double fromMm =
        Objects.requireNonNull(instruction.settingMm())
            - Objects.requireNonNull(instruction.slideMm());
    return -Objects.requireNonNull(stretchers.of(assembly))
        .addedElectricalLengthMm(fromMm, Objects.requireNonNull(done.settingMm()));
  }

  private double uncertainCutElectricalMm(double electricalMm) {
    double v = velocity.velocityFactor();
    return Math.hypot(
        specification.cutStandardUncertaintyMm() / v,
        electricalMm * velocity.standardUncertainty() / v);
  }

  /** A mark is set to within half a step. */
  private double uncertainSettingElectricalMm(Assembly assembly) {
    LineStretcher line = Objects.requireNonNull(stretchers.of(assembly));
    return line.geometry().legs()
        * line.airIndex()
        * line.resolutionMm()
        / 2
        / Distribution.RECTANGULAR.divisor();
  }

  /**
   * The cut likeliest to end accepted under the limit on cutting too short. The solver's own, the
   * least that will do, lands on the edge of the aim limit.
   */
  private Adjustment trim(
      Usable usable, MemberPlan plan, List<FrequencyLimit> limits, ErrorUncertainty uncertainty) {
    List<CutProblem.Spot> spots = new ArrayList<>();
    for (int k = 0; k < limits.size(); k++) {
      FrequencyLimit limit = limits.get(k);
      if (!(limit.acceptanceDeg() > 0)) {
        return Adjustment.hold(
            Sentence.of(
                "reason.tooUncertain",
                Digits.of(limit.frequencyHz() / 1e9, 4),
                Digits.of(limit.toleranceDeg(), 2)));
      }
      // From the plan's own end back, so that each frequency keeps the turn it was planned with.
      double nowDeg =
          plan.predictedErrorDeg().get(k)
              - Adjustment.shiftDeg(plan.trimMm() / velocity.velocityFactor(), limit.frequencyHz());
      spots.add(
          new CutProblem.Spot(
              limit.frequencyHz(), nowDeg, limit.acceptanceDeg(), uncertainty.standardDeg(k)));
    }
    CutPlan cut =
        CutPlanner.plan(
            new CutProblem(
                spots,
                velocity,
                specification.cutStandardUncertaintyMm(),
                specification.cutResolutionMm(),
                allowanceMm(usable.assembly()),
                tooShortLimit(usable.assembly()),
                CutProblem.DEFAULT_MAX_CUTS));
    if (cut.cutMm() == 0) {
      return Adjustment.hold(noCut(cut, tooShortLimit(usable.assembly())));
    }
    double electricalMm = cut.cutMm() / velocity.velocityFactor();
    Sentence why = ReasonWords.of(plan.reason());
    return new Adjustment(
        Instruction.Action.TRIM,
        cut.cutMm(),
        null,
        null,
        electricalMm,
        uncertainCutElectricalMm(electricalMm),
        cut.staged() ? Sentence.of("reason.staged", why) : why,
        cut);
  }

  private Sentence noCut(CutPlan cut, double tooShortLimit) {
    return switch (cut.reason()) {
      case TOO_RISKY -> Sentence.of("reason.tooRisky", Digits.of(100 * tooShortLimit, 1));
      case STEP_TOO_COARSE ->
          Sentence.of(
              "reason.stepTooCoarse",
              Digits.of(specification.cutResolutionMm()),
              Digits.of(100 * tooShortLimit, 1));
      case ALLOWANCE -> Sentence.of("reason.allowanceLeft");
      case NOT_A_PURE_DELAY, TOO_SHORT, WITHIN_LIMIT, CUT, STAGED -> Sentence.of("reason.noCut");
    };
  }

  private double worstErrorDeg(
      Usable usable, double shortenedElectricalMm, List<Double> centerDeg) {
    double worst = 0;
    for (int k = 0; k < specification.frequencies().size(); k++) {
      double shift =
          Adjustment.shiftDeg(
              shortenedElectricalMm, specification.frequencies().get(k).frequencyHz());
      worst = Math.max(worst, Math.abs(wrap(usable.errorDeg().get(k) - centerDeg.get(k) + shift)));
    }
    return worst;
  }

  /** Sets the mark that leaves the least error: the nearest to the plan or one beside it. */
  private Adjustment stretch(Usable usable, MemberPlan plan, List<Double> centerDeg) {
    LineStretcher line = Objects.requireNonNull(stretchers.of(usable.assembly()));
    double currentMm = Objects.requireNonNull(usable.assembly().stretcherSettingMm());
    Frequency frequency = Frequency.ofHertz(specification.frequencies().get(0).frequencyHz());
    double phaseDeg = 360 * frequency.hertz() * plan.stretchMm() / MM_PER_M / c();
    double nearestMm = line.solve(frequency, phaseDeg, 1, currentMm).settingMm();
    double settingMm = nearestMm;
    double leastDeg = Double.POSITIVE_INFINITY;
    for (int step : new int[] {0, -1, 1}) {
      double markMm = round(nearestMm + step * line.resolutionMm());
      if (markMm < line.lowestSettingMm() || markMm > line.highestSettingMm()) {
        continue;
      }
      double worstDeg =
          worstErrorDeg(usable, -line.addedElectricalLengthMm(currentMm, markMm), centerDeg);
      if (worstDeg < leastDeg - 1e-9) {
        leastDeg = worstDeg;
        settingMm = markMm;
      }
    }
    return new Adjustment(
        Instruction.Action.STRETCH,
        0,
        settingMm,
        settingMm - currentMm,
        -line.addedElectricalLengthMm(currentMm, settingMm),
        uncertainSettingElectricalMm(usable.assembly()),
        ReasonWords.of(plan.reason()),
        null);
  }

  private static double round(double mm) {
    return Math.round(mm * 1e6) / 1e6;
  }

  private static double c() {
    return PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
  }
}
