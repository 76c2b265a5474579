package org.equiphase.adjustment;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.util.List;
import org.equiphase.catalog.CableType;
import org.equiphase.measurement.Reading;
import org.equiphase.workorder.Assembly;
import org.equiphase.workorder.MatchedSet;
import org.equiphase.workorder.SetPosition;
import org.equiphase.workorder.WorkOrder;
import org.jspecify.annotations.Nullable;

/**
 * A set as it stands: every member's error and what to do about it.
 *
 * @param waitingFor serial numbers whose readings the plan still needs; empty when it is complete
 * @param centerDeg target per frequency relative to the nominal phase; empty while waiting
 * @param centerFixed whether a signed-off adjustment has fixed the target
 * @param proven whether the plan is proven to be the best
 */
public record SetPlan(
    WorkOrder order,
    CableType cableType,
    MatchedSet set,
    List<String> waitingFor,
    List<Double> centerDeg,
    boolean centerFixed,
    boolean proven,
    List<MemberPlan> members) {

  public SetPlan {
    waitingFor = List.copyOf(waitingFor);
    centerDeg = List.copyOf(centerDeg);
    members = List.copyOf(members);
  }

  public boolean complete() {
    return waitingFor.isEmpty();
  }

  public MemberPlan member(long assemblyId) {
    return members.stream()
        .filter(m -> m.assembly().id() == assemblyId)
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("assembly " + assemblyId));
  }

  public long count(Verdict verdict) {
    return members.stream().filter(m -> m.verdict() == verdict).count();
  }

  /** The same by the verdict's name, for pages. */
  public long count(String verdict) {
    return count(Verdict.valueOf(verdict));
  }

  /** What the plan says of one member. */
  public enum Verdict {
    /** No valid reading. */
    UNREAD,
    /** Read; the plan waits for others of the set. */
    WAITING,
    IN_TOLERANCE,
    ADJUST,
    /** Signed off as cut or set, not measured since. */
    MEASURE_AGAIN,
    /** Can't be brought in, or its reading can't be used. */
    OUT,
    /** Held by a person. */
    HELD
  }

  /**
   * One member of the set.
   *
   * @param spots per frequency; empty without a usable reading
   * @param proposed the instruction that follows from the plan, not yet stored; null for none
   * @param current the instruction issued and not signed off, or signed off and not measured since
   */
  public record MemberPlan(
      SetPosition position,
      Assembly assembly,
      @Nullable Reading reading,
      Verdict verdict,
      String reason,
      List<SpotPlan> spots,
      @Nullable Instruction proposed,
      @Nullable Instruction current) {

    public MemberPlan {
      spots = List.copyOf(spots);
    }

    /** Whether a cut or a setting is planned, or done since the reading. */
    @JsonIgnore
    public boolean isMoves() {
      return verdict == Verdict.ADJUST || verdict == Verdict.MEASURE_AGAIN;
    }
  }

  /**
   * One member at one frequency.
   *
   * @param errorDeg insertion phase less target
   * @param predictedErrorDeg the same after the planned or signed-off adjustment
   * @param acceptanceDeg half-width of the window: tolerance less guard band
   */
  public record SpotPlan(
      double frequencyHz,
      double targetPhaseDeg,
      double errorDeg,
      double predictedErrorDeg,
      double toleranceDeg,
      double acceptanceDeg) {

    // As the solver's own: limits are inclusive, to within this.
    private static final double NEGLIGIBLE_DEG = 1e-9;

    /** Whether the error now is out of acceptance. */
    @JsonIgnore
    public boolean isOut() {
      return Math.abs(errorDeg) > acceptanceDeg + NEGLIGIBLE_DEG;
    }

    /** Whether the error afterwards is out of acceptance. */
    boolean missesAfter() {
      return Math.abs(predictedErrorDeg) > acceptanceDeg + NEGLIGIBLE_DEG;
    }
  }
}
