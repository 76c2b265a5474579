package org.equiphase.adjustment;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.equiphase.adjustment.MemberSituation.Usable;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.matching.CutPlan;
import org.equiphase.matching.SetProblem.FrequencyLimit;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/** What a set's solution means for one member: rounded, with its chances, as an instruction. */
final class MemberPlanner {

  private final Adjuster adjuster;
  private final List<FrequencyLimit> limits;
  private final List<Double> centerDeg;
  private final long cableTypeId;
  private final WorkOrder order;
  private final Instant now;

  MemberPlanner(
      Adjuster adjuster,
      List<FrequencyLimit> limits,
      List<Double> centerDeg,
      long cableTypeId,
      WorkOrder order,
      Instant now) {
    this.adjuster = adjuster;
    this.limits = List.copyOf(limits);
    this.centerDeg = List.copyOf(centerDeg);
    this.cableTypeId = cableTypeId;
    this.order = order;
    this.now = now;
  }

  /** A member whose reading can't be used, or whose plan waits. */
  static MemberPlan without(MemberSituation s, Verdict verdict, Sentence reason) {
    return new MemberPlan(
        s.position(),
        s.assembly(),
        s.reading(),
        verdict,
        reason,
        null,
        List.of(),
        null,
        null,
        null,
        s.standing());
  }

  /**
   * A member with its adjustment.
   *
   * @param planned the solver's plan; null where the member waits to be measured again, or is
   *     accepted as it is
   */
  MemberPlan plan(
      MemberSituation s,
      Usable usable,
      ErrorUncertainty uncertainty,
      org.equiphase.matching.@Nullable MemberPlan planned) {
    Adjustment adjustment =
        planned == null
            ? unplanned(usable)
            : adjuster.planned(usable, planned, centerDeg, limits, uncertainty);
    List<SpotPlan> spots = spots(usable, adjustment, uncertainty);
    Optional<SpotPlan> missed =
        adjustment.settingMm() != null
            ? spots.stream().filter(SpotPlan::missesAfter).findFirst()
            : Optional.empty();
    if (missed.isPresent()) {
      adjustment = Adjustment.hold(tooCoarse(missed.get()));
      spots = spots(usable, adjustment, uncertainty);
    }
    boolean stopped =
        adjustment.action() == Instruction.Action.TRIM
            && usable.drift().state() == ReadingDrift.State.CHECK_DUE;
    double probabilityIn = probabilityIn(spots, uncertainty, adjustment);
    return new MemberPlan(
        s.position(),
        s.assembly(),
        s.reading(),
        stopped
            ? Verdict.CHECK_REFERENCE
            : planned == null ? unplannedVerdict(usable) : verdict(adjustment),
        stopped ? usable.drift().text() : adjustment.reason(),
        usable.drift(),
        spots,
        probabilityIn,
        adjustment.cut(),
        stopped ? null : proposed(s, usable, adjustment, spots, probabilityIn),
        s.standing());
  }

  private Adjustment unplanned(Usable usable) {
    return usable.conceded()
        ? Adjustment.none(Sentence.of("reason.conceded"))
        : adjuster.done(usable.assembly(), usable.doneSince());
  }

  private static Verdict unplannedVerdict(Usable usable) {
    return usable.conceded() ? Verdict.CONCEDED : Verdict.MEASURE_AGAIN;
  }

  private List<SpotPlan> spots(Usable usable, Adjustment adjustment, ErrorUncertainty uncertainty) {
    List<SpotPlan> spots = new ArrayList<>();
    for (int k = 0; k < limits.size(); k++) {
      FrequencyLimit limit = limits.get(k);
      PhaseSum sum = usable.sums().get(k);
      double errorDeg = adjuster.wrap(sum.errorDeg() - centerDeg.get(k));
      spots.add(
          new SpotPlan(
              limit.frequencyHz(),
              sum,
              usable.budgets().get(k).contributions(),
              uncertainty.standardDeg(k),
              sum.nominalDeg() + centerDeg.get(k),
              errorDeg,
              adjuster.wrap(errorDeg + adjustment.shiftDeg(limit.frequencyHz())),
              limit.toleranceDeg(),
              limit.acceptanceDeg()));
    }
    return spots;
  }

  private static double probabilityIn(
      List<SpotPlan> spots, ErrorUncertainty uncertainty, Adjustment adjustment) {
    return uncertainty.probabilityIn(
        spots.stream().mapToDouble(SpotPlan::predictedErrorDeg).toArray(),
        spots.stream().mapToDouble(SpotPlan::toleranceDeg).toArray(),
        spots.stream().mapToDouble(SpotPlan::frequencyHz).toArray(),
        adjustment.uncertainElectricalMm());
  }

  private @Nullable Instruction proposed(
      MemberSituation s,
      Usable usable,
      Adjustment adjustment,
      List<SpotPlan> spots,
      double probabilityIn) {
    if (adjustment.action() == null) {
      return null;
    }
    return new Instruction(
        0,
        0,
        s.assembly().id(),
        usable.reading().id(),
        adjustment.action(),
        adjustment.trimMm(),
        adjustment.settingMm(),
        adjustment.slideMm(),
        adjustment.reason().toString(),
        cableTypeId,
        SetVelocities.lot(order, s.assembly()),
        chance(adjustment, probabilityIn),
        Instruction.State.ISSUED,
        now,
        null,
        IntStream.range(0, spots.size())
            .mapToObj(k -> prediction(spots.get(k), adjustment))
            .toList());
  }

  private static Instruction.@Nullable Chance chance(Adjustment adjustment, double probabilityIn) {
    CutPlan cut = adjustment.cut();
    if (cut != null) {
      return new Instruction.Chance(
          probabilityIn, cut.probabilityTooShort(), cut.staged(), cut.expectedCuts());
    }
    return adjustment.settingMm() == null
        ? null
        : new Instruction.Chance(probabilityIn, 0, false, 0);
  }

  private static Instruction.Prediction prediction(SpotPlan spot, Adjustment adjustment) {
    return new Instruction.Prediction(
        spot.frequencyHz(),
        spot.targetPhaseDeg(),
        spot.errorDeg(),
        spot.predictedErrorDeg(),
        Math.hypot(
            spot.standardUncertaintyDeg(),
            Adjustment.shiftDeg(adjustment.uncertainElectricalMm(), spot.frequencyHz())));
  }

  private static Sentence tooCoarse(SpotPlan spot) {
    return Sentence.of(
        "reason.settingTooCoarse",
        Digits.signed(spot.predictedErrorDeg(), 2),
        Digits.of(spot.frequencyHz() / 1e9, 4),
        Digits.of(spot.acceptanceDeg(), 2));
  }

  private static Verdict verdict(Adjustment adjustment) {
    if (adjustment.action() == null) {
      return Verdict.IN_TOLERANCE;
    }
    return adjustment.action() == Instruction.Action.HOLD ? Verdict.OUT : Verdict.ADJUST;
  }
}
