package org.equiphase.review;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.measurement.Reading;
import org.equiphase.workorder.Assembly;
import org.jspecify.annotations.Nullable;
import tools.jackson.databind.json.JsonMapper;

/**
 * The numbers on which QA decides about an assembly, kept with the decision.
 *
 * @param reason why the plan says so, in English as on all records
 * @param probabilityIn that it is in tolerance as it is, or after what is planned
 * @param centerDeg the set's target relative to the nominal phase, per frequency
 * @param newCenterDeg the target that a decision gives the set; empty for all others
 */
public record DecisionNumbers(
    String revision,
    @Nullable String setName,
    @Nullable String position,
    @Nullable Verdict verdict,
    String reason,
    @Nullable Long readingId,
    @Nullable Instant takenAt,
    @Nullable Double temperatureC,
    double trimmedMm,
    @Nullable Double stretcherSettingMm,
    @Nullable Double probabilityIn,
    List<Double> centerDeg,
    List<Double> newCenterDeg,
    List<Spot> spots) {

  private static final JsonMapper JSON = JsonMapper.builder().build();

  /** One frequency; the errors are null where the reading could not be used. */
  public record Spot(
      double frequencyHz,
      double toleranceDeg,
      @Nullable Double acceptanceDeg,
      @Nullable Double targetPhaseDeg,
      @Nullable Double errorDeg,
      @Nullable Double standardUncertaintyDeg,
      @Nullable Double insertionLossDb,
      @Nullable Double vswr) {}

  public DecisionNumbers {
    centerDeg = List.copyOf(centerDeg);
    newCenterDeg = List.copyOf(newCenterDeg);
    spots = List.copyOf(spots);
  }

  /**
   * @param judged the member as its plan judges it
   * @param member the same with all its numbers, also where its loss or VSWR already puts it out
   */
  static DecisionNumbers of(
      SetPlan plan, MemberPlan judged, MemberPlan member, List<Double> newCenterDeg) {
    Reading reading = member.reading();
    Assembly assembly = member.assembly();
    return new DecisionNumbers(
        plan.order().revision(),
        plan.set().name(),
        member.position().label(),
        judged.verdict(),
        judged.reason().toString(),
        reading == null ? null : reading.id(),
        reading == null ? null : reading.takenAt(),
        reading == null ? null : reading.temperatureC(),
        assembly.trimmedMm(),
        assembly.stretcherSettingMm(),
        member.probabilityIn(),
        plan.centerDeg(),
        newCenterDeg,
        spots(plan, member));
  }

  /** An assembly in the pool has no target to be compared with. */
  static DecisionNumbers ofPool(String revision, Assembly assembly, @Nullable Reading reading) {
    return new DecisionNumbers(
        revision,
        null,
        null,
        null,
        assembly.stateReason(),
        reading == null ? null : reading.id(),
        reading == null ? null : reading.takenAt(),
        reading == null ? null : reading.temperatureC(),
        assembly.trimmedMm(),
        assembly.stretcherSettingMm(),
        null,
        List.of(),
        List.of(),
        List.of());
  }

  private static List<Spot> spots(SetPlan plan, MemberPlan member) {
    List<Spot> spots = new ArrayList<>();
    Reading reading = member.reading();
    var frequencies = plan.order().specification().frequencies();
    for (int k = 0; k < frequencies.size(); k++) {
      SpotPlan planned = member.spots().isEmpty() ? null : member.spots().get(k);
      Reading.Spot read = reading == null ? null : reading.spots().get(k);
      spots.add(
          new Spot(
              frequencies.get(k).frequencyHz(),
              frequencies.get(k).toleranceDeg(),
              planned == null ? null : planned.acceptanceDeg(),
              planned == null ? null : planned.targetPhaseDeg(),
              planned == null ? null : planned.errorDeg(),
              planned == null ? null : planned.standardUncertaintyDeg(),
              read == null ? null : read.insertionLossDb(),
              read == null ? null : read.vswr()));
    }
    return spots;
  }

  String toJson() {
    return JSON.writeValueAsString(this);
  }

  static DecisionNumbers read(String json) {
    return JSON.readValue(json, DecisionNumbers.class);
  }
}
