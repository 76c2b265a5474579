package org.equiphase.adjustment;

import com.fasterxml.jackson.annotation.JsonIgnore;
import java.util.List;
import java.util.Objects;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.CutPlan;
import org.equiphase.matching.VelocityFactorEstimate;
import org.equiphase.measurement.Reading;
import org.equiphase.measurement.ReadingDrift;
import org.equiphase.metrology.Contribution;
import org.equiphase.web.Sentence;
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
 * @param velocity what the cuts are computed with
 * @param lossSpreads insertion loss of the members against each other, per frequency with losses
 * @param tracking how far the set comes apart with temperature, per frequency; empty where the
 *     order gives no range or the cable type no curve
 */
public record SetPlan(
    WorkOrder order,
    CableType cableType,
    MatchedSet set,
    List<String> waitingFor,
    List<Double> centerDeg,
    boolean centerFixed,
    boolean proven,
    Velocity velocity,
    List<LossSpread> lossSpreads,
    List<Tracking> tracking,
    List<MemberPlan> members) {

  public SetPlan {
    waitingFor = List.copyOf(waitingFor);
    centerDeg = List.copyOf(centerDeg);
    lossSpreads = List.copyOf(lossSpreads);
    tracking = List.copyOf(tracking);
    members = List.copyOf(members);
  }

  /**
   * Velocity factor of the lot.
   *
   * @param lot the cable's lot; the order where none is told
   * @param velocityFactor and standardUncertainty: after the lot's finished cuts
   * @param cuts number of cuts it was learned from
   * @param outliers serials of assemblies whose cuts moved the phase too unlike the others, left
   *     out
   */
  public record Velocity(
      String lot,
      double velocityFactor,
      double standardUncertainty,
      int cuts,
      List<String> outliers) {

    public Velocity {
      outliers = List.copyOf(outliers);
    }

    VelocityFactorEstimate estimate() {
      return new VelocityFactorEstimate(velocityFactor, standardUncertainty);
    }
  }

  /**
   * Spread of insertion loss at one frequency.
   *
   * @param spreadDb largest less smallest as measured, and afterDb after the planned cuts
   * @param limitDb null without a limit
   */
  public record LossSpread(
      double frequencyHz, double spreadDb, double afterDb, @Nullable Double limitDb) {}

  /** How far apart the members drift over the order's temperatures, and where that is worst. */
  public record Tracking(
      double frequencyHz, double lowC, double highC, double apartDeg, double atC) {}

  public boolean complete() {
    return waitingFor.isEmpty();
  }

  /** Whether every position is filled by a member in tolerance or accepted as it is. */
  @JsonIgnore
  public boolean matched() {
    return members.size() == set.positions().size()
        && count(Verdict.IN_TOLERANCE) + count(Verdict.CONCEDED) == members.size();
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
    /** Out of tolerance and accepted as it is by a concession. */
    CONCEDED,
    /** Can't be brought in, or its reading can't be used. */
    OUT,
    /** The bench's reference cable has to be measured first. */
    CHECK_REFERENCE,
    /** Held by a person. */
    HELD,
    /** Given up; the position waits for another assembly. */
    SCRAPPED
  }

  /**
   * One member of the set.
   *
   * @param drift what the reference checks say of its reading; null without one
   * @param spots per frequency; empty without a usable reading
   * @param probabilityIn that it is in tolerance, after what is planned or done; null without a
   *     usable reading
   * @param cut the planned cut's chances and their terms; null where none is planned
   * @param proposed the instruction that follows from the plan, not yet stored; null for none
   * @param current the instruction issued and not signed off, or signed off and not measured since
   */
  public record MemberPlan(
      SetPosition position,
      Assembly assembly,
      @Nullable Reading reading,
      Verdict verdict,
      Sentence reason,
      @Nullable ReadingDrift drift,
      List<SpotPlan> spots,
      @Nullable Double probabilityIn,
      @Nullable CutPlan cut,
      @Nullable Instruction proposed,
      @Nullable Instruction current) {

    public MemberPlan {
      spots = List.copyOf(spots);
    }

    /**
     * The issued instruction to cut or set, while it is still what the plan asks; null otherwise.
     */
    public @Nullable Instruction asked() {
      boolean stands =
          verdict == Verdict.ADJUST
              && current != null
              && proposed != null
              && current.state() == Instruction.State.ISSUED
              && current.readingId() == proposed.readingId()
              && current.action() == proposed.action()
              && current.trimMm() == proposed.trimMm()
              && Objects.equals(current.settingMm(), proposed.settingMm());
      return stands ? current : null;
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
   * @param sum how the error against the nominal phase comes about
   * @param contributions what makes up the reading's uncertainty
   * @param standardUncertaintyDeg of the error, by what it is counted against
   * @param errorDeg insertion phase less target
   * @param predictedErrorDeg the same after the planned or signed-off adjustment
   * @param acceptanceDeg half-width of the window: tolerance less guard band
   */
  public record SpotPlan(
      double frequencyHz,
      PhaseSum sum,
      List<Contribution> contributions,
      double standardUncertaintyDeg,
      double targetPhaseDeg,
      double errorDeg,
      double predictedErrorDeg,
      double toleranceDeg,
      double acceptanceDeg) {

    public SpotPlan {
      contributions = List.copyOf(contributions);
    }

    /** The set's centre: what the target adds to the nominal phase, degrees. */
    @JsonIgnore
    public double getCenterDeg() {
      return targetPhaseDeg - sum.nominalDeg();
    }

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
