package org.equiphase.bench;

import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.Instruction;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.measurement.Reading;
import org.equiphase.rf.WrappedPhase;
import org.jspecify.annotations.Nullable;

/**
 * An instruction as it is taken in at one glance.
 *
 * @param kind what kind of work it is; decides colour, mark and where the keyboard goes
 * @param amountMm length to cut or reading to set; null for neither
 * @param slideMm how far the stretcher moves; null where nothing is set
 * @param probabilityIn that it ends in tolerance, after the work or as it is; null where not known
 * @param after what to expect, per frequency; empty where nothing is to be cut or set
 */
public record Glance(
    Kind kind,
    @Nullable Double amountMm,
    @Nullable Double slideMm,
    @Nullable Double probabilityIn,
    List<After> after) {

  /** What the technician does next with the assembly. */
  public enum Kind {
    MEASURE,
    CUT,
    SET,
    CHECK,
    WAIT,
    GOOD,
    HOLD;

    public boolean isMeasure() {
      return this == MEASURE || this == CHECK;
    }
  }

  /**
   * What the instrument should show afterwards.
   *
   * @param shownDeg wrapped phase of the measured parameter, at the temperature of the reading
   * @param errorDeg the phase error that goes with it
   */
  public record After(double frequencyHz, double shownDeg, double errorDeg) {}

  public Glance {
    after = List.copyOf(after);
  }

  static Glance of(MemberPlan member) {
    Kind kind = kind(member);
    Instruction instruction = member.current();
    if (instruction == null || (kind != Kind.CUT && kind != Kind.SET)) {
      return new Glance(kind, null, null, member.probabilityIn(), List.of());
    }
    return new Glance(
        kind,
        kind == Kind.CUT ? Double.valueOf(instruction.trimMm()) : instruction.settingMm(),
        instruction.slideMm(),
        member.probabilityIn(),
        after(member));
  }

  private static Kind kind(MemberPlan member) {
    return switch (member.verdict()) {
      case UNREAD, MEASURE_AGAIN -> Kind.MEASURE;
      case CHECK_REFERENCE -> Kind.CHECK;
      case WAITING -> Kind.WAIT;
      case IN_TOLERANCE, CONCEDED -> Kind.GOOD;
      case OUT, HELD, SCRAPPED -> Kind.HOLD;
      case ADJUST -> {
        Instruction instruction = member.current();
        yield instruction != null && instruction.action() == Instruction.Action.STRETCH
            ? Kind.SET
            : Kind.CUT;
      }
    };
  }

  private static List<After> after(MemberPlan member) {
    Reading reading = member.reading();
    List<After> after = new ArrayList<>();
    for (int k = 0; reading != null && k < member.spots().size(); k++) {
      SpotPlan spot = member.spots().get(k);
      double turnDeg = (spot.predictedErrorDeg() - spot.errorDeg()) * reading.method().passes();
      after.add(
          new After(
              spot.frequencyHz(),
              WrappedPhase.wrapDeg(reading.spots().get(k).measuredPhaseDeg() + turnDeg),
              spot.predictedErrorDeg()));
    }
    return after;
  }
}
