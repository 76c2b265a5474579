package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.matching.Turns;
import org.equiphase.measurement.Reading;
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
    String reason,
    @Nullable Usable usable) {

  /**
   * A reading that counts.
   *
   * @param nominalDeg insertion phase that the position asks for before the centre is added
   * @param errorDeg insertion phase less nominal
   * @param doneSince what was signed off since this reading, the oldest first
   */
  record Usable(
      Assembly assembly,
      Reading reading,
      List<Double> nominalDeg,
      List<Double> errorDeg,
      List<Instruction> doneSince) {

    Usable {
      doneSince = List.copyOf(doneSince);
    }

    /** Whether the assembly has changed since it was measured. */
    boolean awaitsRemeasurement() {
      return !doneSince.isEmpty();
    }
  }

  static MemberSituation of(
      Specification specification,
      Adjuster adjuster,
      SetPosition position,
      Assembly assembly,
      @Nullable Reading reading,
      List<Instruction> doneSince,
      @Nullable Instruction standing) {
    if (assembly.state() == AssemblyState.ON_HOLD && assembly.heldBy() != null) {
      return new MemberSituation(
          position, assembly, reading, standing, Verdict.HELD, assembly.stateReason(), null);
    }
    if (reading == null) {
      return new MemberSituation(
          position, assembly, null, standing, Verdict.UNREAD, "No valid reading yet.", null);
    }
    String unusable = unusable(specification, reading);
    if (!unusable.isEmpty()) {
      return new MemberSituation(
          position, assembly, reading, standing, Verdict.OUT, unusable, null);
    }
    List<Double> nominalDeg = new ArrayList<>();
    List<Double> errorDeg = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      double nominal = adjuster.nominalPhaseDeg(f) + position.offsetDeg(f.frequencyHz());
      nominalDeg.add(nominal);
      errorDeg.add(adjuster.wrap(reading.spots().get(k).phaseDeg() - nominal));
    }
    return new MemberSituation(
        position,
        assembly,
        reading,
        standing,
        Verdict.IN_TOLERANCE,
        "",
        new Usable(assembly, reading, nominalDeg, errorDeg, doneSince));
  }

  private static String unusable(Specification specification, Reading reading) {
    Double modulo = reading.phaseModuloDeg();
    if (modulo != null && (specification.turns() == Turns.ABSOLUTE || modulo < 360)) {
      return String.format(
          Locale.ROOT,
          "The whole number of turns is not known: the phase holds modulo %.0f° only. Take a sweep"
              + " over a wider band, or narrow the expected length of the order.",
          modulo);
    }
    Double vswrLimit = specification.vswrLimit();
    for (int k = 0; k < reading.spots().size(); k++) {
      Reading.Spot spot = reading.spots().get(k);
      Double lossLimit = specification.frequencies().get(k).insertionLossLimitDb();
      Double loss = spot.insertionLossDb();
      double ghz = spot.frequencyHz() / 1e9;
      if (lossLimit != null && loss != null && loss > lossLimit) {
        return String.format(
            Locale.ROOT,
            "Insertion loss %.2f dB at %.4f GHz is above the limit of %.2f dB.",
            loss,
            ghz,
            lossLimit);
      }
      Double vswr = spot.vswr();
      if (vswrLimit != null && vswr != null && vswr > vswrLimit) {
        return String.format(
            Locale.ROOT, "VSWR %.3f at %.4f GHz is above the limit of %.3f.", vswr, ghz, vswrLimit);
      }
    }
    return "";
  }
}
