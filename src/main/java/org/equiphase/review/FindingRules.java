package org.equiphase.review;

import java.time.LocalDate;
import java.time.ZoneId;
import java.util.EnumMap;
import java.util.Map;
import java.util.Set;
import java.util.function.LongFunction;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.SpotPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.catalog.Bench;
import org.equiphase.measurement.Reading;
import org.equiphase.review.Finding.Kind;
import org.equiphase.workorder.FrequencySpecification;
import org.jspecify.annotations.Nullable;

/** What of a member's plan is for QA to look at. */
final class FindingRules {

  /** Nobody needs to look at a member that is more certain than this, whatever the limit. */
  static final double CERTAIN = 0.9999;

  private static final Set<String> LOSS =
      Set.of("reason.lossTooHigh", "reason.lossApart", "reason.lossMissing");

  private final ReviewSettings settings;
  private final LongFunction<Bench> benches;

  FindingRules(ReviewSettings settings, LongFunction<Bench> benches) {
    this.settings = settings;
    this.benches = benches;
  }

  /** The error that uses most of its limit; null without a usable reading. */
  static @Nullable SpotPlan worst(MemberPlan member) {
    SpotPlan worst = null;
    double most = -1;
    for (SpotPlan spot : member.spots()) {
      double share = Math.abs(spot.errorDeg()) / Math.max(spot.acceptanceDeg(), 1e-9);
      if (share > most) {
        most = share;
        worst = spot;
      }
    }
    return worst;
  }

  /** Each kind of finding, with whether it is listed now. */
  Map<Kind, Boolean> findings(SetPlan plan, MemberPlan member, boolean awaitsSecond) {
    Map<Kind, Boolean> found = new EnumMap<>(Kind.class);
    Verdict verdict = member.verdict();
    if (plan.set().releasedAt() != null) {
      if (verdict != Verdict.IN_TOLERANCE && verdict != Verdict.CONCEDED) {
        found.put(Kind.RELEASED_IN_DOUBT, true);
      }
      return found;
    }
    if (awaitsSecond) {
      found.put(Kind.AWAITS_SECOND_SIGNATURE, true);
    }
    switch (verdict) {
      case SCRAPPED -> found.put(Kind.SCRAPPED, true);
      case HELD -> found.put(Kind.HELD, true);
      case OUT -> found.put(out(member), true);
      case IN_TOLERANCE -> risk(member, found);
      case UNREAD, WAITING, ADJUST, MEASURE_AGAIN, CHECK_REFERENCE, CONCEDED -> {}
    }
    Reading reading = member.reading();
    if (reading != null && verdict != Verdict.SCRAPPED && verdict != Verdict.CONCEDED) {
      if (fitsBadly(plan, reading)) {
        found.put(Kind.BAD_FIT, true);
      }
      if (overdue(reading)) {
        found.put(Kind.CALIBRATION_OVERDUE, true);
      }
    }
    return found;
  }

  private void risk(MemberPlan member, Map<Kind, Boolean> found) {
    Double probability = member.probabilityIn();
    if (probability != null && probability < CERTAIN) {
      found.put(Kind.AT_RISK, probability < settings.atRiskProbability());
    }
  }

  private static Kind out(MemberPlan member) {
    String key = member.reason().key();
    if (LOSS.contains(key)) {
      return Kind.LOSS;
    }
    if (key.equals("reason.vswrTooHigh")) {
      return Kind.VSWR;
    }
    if (key.equals("reason.turnsUnknown")) {
      return Kind.TURNS_UNKNOWN;
    }
    if (key.startsWith("drift.")) {
      return Kind.DRIFT_HOLD;
    }
    SpotPlan worst = worst(member);
    boolean pureDelay = !key.equals("reason.noPureDelay");
    return worst != null && pureDelay && worst.errorDeg() > 0 ? Kind.SHORT : Kind.OUT_OF_TOLERANCE;
  }

  private boolean fitsBadly(SetPlan plan, Reading reading) {
    Double worstDeg = reading.worstResidualDeg();
    double smallestDeg =
        plan.order().specification().frequencies().stream()
            .mapToDouble(FrequencySpecification::toleranceDeg)
            .min()
            .orElseThrow();
    return worstDeg != null && Math.abs(worstDeg) > settings.fitShare() * smallestDeg;
  }

  /** Judged by the dates that the catalog has now. */
  private boolean overdue(Reading reading) {
    Bench bench = benches.apply(reading.benchId());
    LocalDate day = LocalDate.ofInstant(reading.takenAt(), ZoneId.systemDefault());
    return bench.calibrationDue().isBefore(day)
        || bench.instrument().calibrationDue().isBefore(day);
  }
}
