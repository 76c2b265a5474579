package org.equiphase.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.catalog.Catalog;
import org.equiphase.matching.CutPlan;
import org.equiphase.measurement.Reading;
import org.equiphase.rf.LineStretcher;
import org.equiphase.web.Figure;
import org.equiphase.web.Sentence;
import org.equiphase.workbook.InstructionRow.Spot;
import org.equiphase.workbook.InstructionRow.Work;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/** Makes the rows of the instructions from the plans of the moment. */
final class InstructionRows {

  private static final double MM_PER_INCH = 25.4;

  private final WorkOrder order;
  private final Specification specification;
  private final Catalog catalog;

  InstructionRows(WorkOrder order, Catalog catalog) {
    this.order = order;
    this.specification = order.specification();
    this.catalog = catalog;
  }

  InstructionRow of(SetPlan plan, MemberPlan member) {
    Assembly assembly = member.assembly();
    Instruction asked = member.asked();
    Work work = asked == null ? null : work(plan, member, asked);
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      spots.add(spot(plan, member, k));
    }
    Instruction named = asked != null ? asked : done(member);
    return new InstructionRow(
        assembly.serial(),
        plan.set().name(),
        member.position().label(),
        action(member, asked),
        member.reading() == null ? null : member.reading().id(),
        named == null ? null : named.id(),
        spots,
        work,
        member.probabilityIn(),
        key(assembly, member.reading(), named));
  }

  /** An assembly without a position. */
  InstructionRow loose(Assembly assembly, @Nullable Reading reading) {
    List<Spot> spots = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      spots.add(unplanned(k, reading));
    }
    return new InstructionRow(
        assembly.serial(),
        "",
        "",
        Sentence.of(reading == null ? "workbook.do.measure" : "workbook.do.pool"),
        reading == null ? null : reading.id(),
        null,
        spots,
        null,
        null,
        key(assembly, reading, null));
  }

  /** The instruction that was signed off and not measured since. */
  private static @Nullable Instruction done(MemberPlan member) {
    return member.verdict() == SetPlan.Verdict.MEASURE_AGAIN ? member.current() : null;
  }

  private String key(
      Assembly assembly, @Nullable Reading reading, @Nullable Instruction instruction) {
    return new RowKey(
            order.id(),
            assembly.id(),
            reading == null ? 0 : reading.id(),
            instruction == null ? 0 : instruction.id(),
            instruction == null ? 0 : instruction.version())
        .text(assembly.serial());
  }

  private Spot spot(SetPlan plan, MemberPlan member, int k) {
    if (member.spots().isEmpty()) {
      return unplanned(k, member.reading());
    }
    SpotPlan spot = member.spots().get(k);
    return new Spot(
        spot.frequencyHz(),
        plan.centerDeg().isEmpty() ? null : plan.centerDeg().get(k),
        spot.targetPhaseDeg(),
        spot.sum().phaseDeg(),
        errorDeg(member, k),
        spot.acceptanceDeg());
  }

  private Spot unplanned(int k, @Nullable Reading reading) {
    FrequencySpecification frequency = specification.frequencies().get(k);
    return new Spot(
        frequency.frequencyHz(),
        null,
        null,
        reading == null ? null : reading.spots().get(k).phaseDeg(),
        null,
        null);
  }

  /** The error in the turn that a cut is planned with: whole turns don't count in every order. */
  private static double errorDeg(MemberPlan member, int k) {
    double errorDeg = member.spots().get(k).errorDeg();
    CutPlan cut = member.cut();
    if (cut == null || cut.cutMm() == 0) {
      return errorDeg;
    }
    CutPlan.Prediction after = cut.spots().get(k);
    double plannedDeg = after.predictedErrorDeg() - after.degreesPerMm() * cut.cutMm();
    return errorDeg + 360 * Math.rint((plannedDeg - errorDeg) / 360);
  }

  private Work work(SetPlan plan, MemberPlan member, Instruction asked) {
    double firstHz = specification.frequencies().get(0).frequencyHz();
    double errorDeg = errorDeg(member, 0);
    if (asked.action() == Instruction.Action.TRIM) {
      double perMm = 1 / plan.velocity().velocityFactor();
      Work unaimed = new Work(true, perMm, 0, specification.cutResolutionMm(), 0, asked.trimMm());
      return aimed(unaimed, errorDeg, firstHz);
    }
    LineStretcher line =
        catalog
            .lineStretcher(Objects.requireNonNull(member.assembly().lineStretcherId(specification)))
            .toRf();
    double toMm = Objects.requireNonNull(asked.settingMm());
    double fromMm = Objects.requireNonNull(member.assembly().stretcherSettingMm());
    // Where the scale is calibrated, the mean over this slide.
    double perMm = -line.addedElectricalLengthMm(fromMm, toMm) / (toMm - fromMm);
    return aimed(new Work(false, perMm, 0, 0, fromMm, toMm), errorDeg, firstHz);
  }

  private static Work aimed(Work work, double errorDeg, double frequencyHz) {
    return new Work(
        work.cut(),
        work.electricalMmPerMm(),
        errorDeg + work.degPerMm(frequencyHz) * work.byMm(),
        work.stepMm(),
        work.fromMm(),
        work.toMm());
  }

  private static Sentence action(MemberPlan member, @Nullable Instruction asked) {
    return switch (member.verdict()) {
      case UNREAD -> Sentence.of("workbook.do.measure");
      case WAITING -> Sentence.of("workbook.do.wait", member.reason());
      case IN_TOLERANCE -> Sentence.of("workbook.do.nothing");
      case CONCEDED -> Sentence.of("workbook.do.conceded");
      case MEASURE_AGAIN -> Sentence.of("workbook.do.measureAgain");
      case CHECK_REFERENCE -> Sentence.of("workbook.do.wait", member.reason());
      case OUT, HELD -> Sentence.of("workbook.do.hold", member.reason());
      case SCRAPPED -> Sentence.of("workbook.do.scrapped");
      case ADJUST -> asked == null ? Sentence.of("workbook.do.planChanged") : adjust(asked);
    };
  }

  private static Sentence adjust(Instruction asked) {
    if (asked.action() == Instruction.Action.TRIM) {
      Instruction.Chance chance = asked.chance();
      return Sentence.of(
          chance != null && chance.staged() ? "workbook.do.cutStaged" : "workbook.do.cut",
          Figure.plain(asked.trimMm()),
          Figure.of(asked.trimMm() / MM_PER_INCH, 3));
    }
    return Sentence.of("workbook.do.set", Figure.plain(Objects.requireNonNull(asked.settingMm())));
  }
}
