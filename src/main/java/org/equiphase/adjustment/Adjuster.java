package org.equiphase.adjustment;

import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.MemberPlan;
import org.equiphase.matching.SetProblem;
import org.equiphase.matching.SetProblem.StretchRange;
import org.equiphase.matching.Turns;
import org.equiphase.rf.Frequency;
import org.equiphase.rf.LineStretcher;
import org.equiphase.rf.PhysicalConstants;
import org.equiphase.rf.WrappedPhase;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** Turns planned lengths into cuts and settings that a person can make. */
final class Adjuster {

  private static final double MM_PER_M = 1e3;

  private final Specification specification;
  private final CableType cable;
  private final @Nullable LineStretcher stretcher;

  Adjuster(Specification specification, CableType cable, @Nullable LineStretcher stretcher) {
    this.specification = specification;
    this.cable = cable;
    this.stretcher = stretcher;
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
    double stretcherMm =
        stretcher == null
            ? 0
            : stretcher.electricalLengthMm(
                Objects.requireNonNull(specification.stretcherStartMm()));
    return (specification.nominalLengthMm() / cable.velocityFactor() + stretcherMm) / MM_PER_M;
  }

  /** An error without the turns that do not count. */
  double wrap(double errorDeg) {
    return specification.turns() == Turns.MODULO_360 ? WrappedPhase.wrapDeg(errorDeg) : errorDeg;
  }

  /** The member as the matching problem sees it. */
  SetProblem.Member member(Assembly assembly, List<Double> errorDeg) {
    double allowanceMm = Math.max(0, specification.trimAllowanceMm() - assembly.trimmedMm());
    return new SetProblem.Member(
        assembly.serial(), cable.velocityFactor(), errorDeg, allowanceMm, stretchRange(assembly));
  }

  private @Nullable StretchRange stretchRange(Assembly assembly) {
    Double currentMm = assembly.stretcherSettingMm();
    if (stretcher == null || currentMm == null) {
      return null;
    }
    double toLow = stretcher.addedElectricalLengthMm(currentMm, stretcher.lowestSettingMm());
    double toHigh = stretcher.addedElectricalLengthMm(currentMm, stretcher.highestSettingMm());
    return new StretchRange(Math.min(toLow, toHigh), Math.max(toLow, toHigh));
  }

  /** The planned adjustment, rounded. */
  Adjustment planned(Usable usable, MemberPlan plan, List<Double> centerDeg) {
    return switch (plan.action()) {
      case NONE -> Adjustment.none(plan.reason().text());
      case REPLACE -> Adjustment.hold(plan.reason().text());
      case TRIM -> trim(usable, plan, centerDeg);
      case STRETCH -> stretch(usable, plan, centerDeg);
    };
  }

  /** What was signed off as really cut or set since the reading, taken together. */
  Adjustment done(List<Instruction> doneSince) {
    double shortenedElectricalMm = 0;
    for (Instruction instruction : doneSince) {
      shortenedElectricalMm += shortenedElectricalMm(instruction);
    }
    return Adjustment.none("Adjusted since this reading; measure it again.")
        .shortened(shortenedElectricalMm);
  }

  private double shortenedElectricalMm(Instruction instruction) {
    Instruction.Done done = Objects.requireNonNull(instruction.done());
    Double trimMm = done.trimMm();
    if (trimMm != null) {
      return trimMm / cable.velocityFactor();
    }
    double fromMm =
        Objects.requireNonNull(instruction.settingMm())
            - Objects.requireNonNull(instruction.slideMm());
    return -Objects.requireNonNull(stretcher)
        .addedElectricalLengthMm(fromMm, Objects.requireNonNull(done.settingMm()));
  }

  /**
   * Rounds a cut to the shop's step. The least cut lands on the edge of the aim limit, so it is
   * rounded up, towards the centre, unless that would pass the other edge or the allowance.
   */
  private Adjustment trim(Usable usable, MemberPlan plan, List<Double> centerDeg) {
    double step = specification.cutResolutionMm();
    double up = round(Math.ceil(plan.trimMm() / step - 1e-9) * step);
    double down = round(Math.floor(plan.trimMm() / step + 1e-9) * step);
    boolean upFits =
        up <= specification.trimAllowanceMm() - usable.assembly().trimmedMm() + 1e-9
            && worstErrorDeg(usable, up / cable.velocityFactor(), centerDeg)
                <= worstErrorDeg(usable, down / cable.velocityFactor(), centerDeg);
    double trimMm = upFits || down <= 0 ? up : down;
    return new Adjustment(
        Instruction.Action.TRIM,
        trimMm,
        null,
        null,
        trimMm / cable.velocityFactor(),
        plan.reason().text());
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
    LineStretcher line = Objects.requireNonNull(stretcher);
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
        plan.reason().text());
  }

  private static double round(double mm) {
    return Math.round(mm * 1e6) / 1e6;
  }

  private static double c() {
    return PhysicalConstants.SPEED_OF_LIGHT_M_PER_S;
  }
}
