package org.equiphase.adjustment;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.metrology.UncertaintyBudget;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.AssemblyState;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/**
 * A member before the set is solved: what its last reading says, and whether it can be used.
 *
 * @param verdict why it can't be used, where {@code usable} is null
 */
record MemberSituation(
    SetPosition position,
    Assembly assembly,
    @Nullable Reading reading,
    @Nullable Instruction standing,
    Verdict verdict,
    Sentence reason,
    @Nullable Usable usable) {

  /**
   * A reading that counts.
   *
   * @param sums how the error comes about, per frequency
   * @param budgets uncertainty of the phase, per frequency
   * @param doneSince what was signed off since this reading, the oldest first
   */
  record Usable(
      Assembly assembly,
      Reading reading,
      ReadingDrift drift,
      List<PhaseSum> sums,
      List<UncertaintyBudget> budgets,
      List<Instruction> doneSince) {

    Usable {
      sums = List.copyOf(sums);
      budgets = List.copyOf(budgets);
      doneSince = List.copyOf(doneSince);
    }

    /** Insertion phase less nominal, per frequency. */
    List<Double> errorDeg() {
      return sums.stream().map(PhaseSum::errorDeg).toList();
    }

    /** Whether the assembly has changed since it was measured. */
    boolean awaitsRemeasurement() {
      return !doneSince.isEmpty();
    }

    /** Whether QA accepted the assembly as this reading found it. */
    boolean conceded() {
      Long conceded = assembly.terms().concededReadingId();
      return conceded != null && conceded == reading.id() && !awaitsRemeasurement();
    }

    /** Whether there is something to decide about it. */
    boolean open() {
      return !awaitsRemeasurement() && !conceded();
    }
  }

  static MemberSituation of(
      Specification specification,
      Adjuster adjuster,
      SetPosition position,
      Assembly assembly,
      @Nullable Reading reading,
      @Nullable ReadingDrift drift,
      List<Instruction> instructions) {
    Instruction standing =
        instructions.stream()
            .filter(i -> i.state() != Instruction.State.SUPERSEDED)
            .reduce((first, second) -> second)
            .orElse(null);
    if (assembly.state() == AssemblyState.ON_HOLD && assembly.heldBy() != null) {
      return new MemberSituation(
          position,
          assembly,
          reading,
          standing,
          Verdict.HELD,
          Sentence.said(assembly.stateReason()),
          null);
    }
    if (assembly.state() == AssemblyState.SCRAPPED) {
      return new MemberSituation(
          position,
          assembly,
          reading,
          standing,
          Verdict.SCRAPPED,
          Sentence.said(assembly.stateReason()),
          null);
    }
    if (reading == null || drift == null) {
      return new MemberSituation(
          position, assembly, null, standing, Verdict.UNREAD, Sentence.of("reason.unread"), null);
    }
    Instant remeasureFrom = assembly.terms().remeasureFrom();
    if (remeasureFrom != null && reading.takenAt().isBefore(remeasureFrom)) {
      return new MemberSituation(
          position,
          assembly,
          null,
          standing,
          Verdict.UNREAD,
          Sentence.of("reason.remeasure"),
          null);
    }
    Long conceded = assembly.terms().concededReadingId();
    Sentence unusable =
        conceded != null && conceded == reading.id() && reading.phaseModuloDeg() == null
            ? null
            : unusable(specification, reading);
    if (unusable != null) {
      return new MemberSituation(
          position, assembly, reading, standing, Verdict.OUT, unusable, null);
    }
    if (!drift.usable()) {
      Verdict verdict =
          drift.state() == ReadingDrift.State.NOT_CHECKED ? Verdict.CHECK_REFERENCE : Verdict.OUT;
      return new MemberSituation(
          position, assembly, reading, standing, verdict, drift.text(), null);
    }
    List<PhaseSum> sums = new ArrayList<>();
    List<UncertaintyBudget> budgets = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      double nominalDeg = adjuster.nominalPhaseDeg(f) + position.offsetDeg(f.frequencyHz());
      sums.add(PhaseSum.of(reading, k, drift, nominalDeg, adjuster));
      budgets.add(reading.spots().get(k).uncertainty().budget(drift.residualDeg(f.frequencyHz())));
    }
    List<Instruction> doneSince = instructions.stream().filter(i -> i.doneAfter(reading)).toList();
    return new MemberSituation(
        position,
        assembly,
        reading,
        standing,
        Verdict.IN_TOLERANCE,
        Sentence.said(""),
        new Usable(assembly, reading, drift, sums, budgets, doneSince));
  }

  /** The same member, found unusable for another reason. */
  MemberSituation out(Sentence why) {
    return new MemberSituation(position, assembly, reading, standing, Verdict.OUT, why, null);
  }

  private static @Nullable Sentence unusable(Specification specification, Reading reading) {
    Double modulo = reading.phaseModuloDeg();
    if (modulo != null && !reading.tells(specification.turns())) {
      return Sentence.of("reason.turnsUnknown", Digits.of(modulo, 0));
    }
    Double vswrLimit = specification.vswrLimit();
    for (int k = 0; k < reading.spots().size(); k++) {
      Reading.Spot spot = reading.spots().get(k);
      Double lossLimit = specification.frequencies().get(k).insertionLossLimitDb();
      Double loss = spot.insertionLossDb();
      double ghz = spot.frequencyHz() / 1e9;
      if (lossLimit != null && loss != null && loss > lossLimit) {
        return Sentence.of(
            "reason.lossTooHigh", Digits.of(loss, 2), Digits.of(ghz, 4), Digits.of(lossLimit, 2));
      }
      if (specification.frequencies().get(k).insertionLossSpreadDb() != null && loss == null) {
        return Sentence.of("reason.lossMissing", Digits.of(ghz, 4));
      }
      Double vswr = spot.vswr();
      if (vswrLimit != null && vswr != null && vswr > vswrLimit) {
        return Sentence.of(
            "reason.vswrTooHigh", Digits.of(vswr, 3), Digits.of(ghz, 4), Digits.of(vswrLimit, 3));
      }
    }
    return null;
  }
}
