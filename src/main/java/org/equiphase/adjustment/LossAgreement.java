package org.equiphase.adjustment;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.equiphase.adjustment.SetPlan.LossSpread;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.catalog.CableType;
import org.equiphase.matching.AmplitudeCheck;
import org.equiphase.matching.AmplitudeCheck.LossLimit;
import org.equiphase.matching.AmplitudeCheck.Outsider;
import org.equiphase.measurement.Reading;
import org.equiphase.web.Digits;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;
import org.equiphase.workorder.Specification;
import org.jspecify.annotations.Nullable;

/** Insertion loss of a set's members against each other. */
final class LossAgreement {

  private LossAgreement() {}

  /**
   * Puts out the members whose loss does not go with the others. A loss can't be cut in, so they
   * leave before the phases are solved; it waits until all that can be read are.
   */
  static List<MemberSituation> judged(
      Specification specification, List<MemberSituation> situations) {
    List<LossLimit> limits =
        specification.frequencies().stream()
            .map(f -> new LossLimit(f.frequencyHz(), f.insertionLossSpreadDb()))
            .toList();
    boolean unread = situations.stream().anyMatch(s -> s.reading() == null);
    if (unread || limits.stream().allMatch(l -> l.spreadLimitDb() == null)) {
      return situations;
    }
    List<AmplitudeCheck.Member> members = new ArrayList<>();
    for (MemberSituation s : situations) {
      if (s.usable() != null) {
        // Where no limit holds, a missing loss doesn't matter.
        members.add(
            new AmplitudeCheck.Member(
                s.assembly().serial(),
                s.usable().reading().spots().stream()
                    .map(spot -> Objects.requireNonNullElse(spot.insertionLossDb(), 0.0))
                    .toList()));
      }
    }
    if (members.isEmpty()) {
      return situations;
    }
    List<Outsider> outsiders = AmplitudeCheck.check(limits, members).outsiders();
    return situations.stream()
        .map(
            s ->
                outsiders.stream()
                    .filter(o -> o.serial().equals(s.assembly().serial()))
                    .filter(o -> s.usable() == null || !s.usable().conceded())
                    .findFirst()
                    .map(o -> s.out(text(o)))
                    .orElse(s))
        .toList();
  }

  private static Sentence text(Outsider o) {
    return Sentence.of(
        "reason.lossApart",
        Digits.of(o.lossDb(), 2),
        Digits.of(o.frequencyHz() / 1e9, 4),
        Digits.of(o.excessDb(), 2));
  }

  /** The spread at each frequency at which all members in use have a loss. */
  static List<LossSpread> spreads(
      Specification specification, CableType cable, List<MemberPlan> members) {
    List<MemberPlan> used = members.stream().filter(m -> !m.spots().isEmpty()).toList();
    List<LossSpread> spreads = new ArrayList<>();
    for (int k = 0; k < specification.frequencies().size() && !used.isEmpty(); k++) {
      FrequencySpecification f = specification.frequencies().get(k);
      List<Double> now = new ArrayList<>();
      List<Double> after = new ArrayList<>();
      for (MemberPlan member : used) {
        Double lossDb = lossDb(member, k);
        if (lossDb != null) {
          double trimMm = member.cut() == null ? 0 : member.cut().cutMm();
          now.add(lossDb);
          after.add(
              AmplitudeCheck.lossAfterCutDb(lossDb, cable.lossDbPerM(f.frequencyHz()), trimMm));
        }
      }
      if (now.size() == used.size()) {
        spreads.add(
            new LossSpread(f.frequencyHz(), spread(now), spread(after), f.insertionLossSpreadDb()));
      }
    }
    return spreads;
  }

  private static @Nullable Double lossDb(MemberPlan member, int frequency) {
    Reading reading = member.reading();
    return reading == null ? null : reading.spots().get(frequency).insertionLossDb();
  }

  private static double spread(List<Double> values) {
    return values.stream().mapToDouble(v -> v).max().orElse(0)
        - values.stream().mapToDouble(v -> v).min().orElse(0);
  }
}
