package org.equiphase.process;

import java.util.Arrays;
import java.util.List;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.adjustment.SetPlan.Verdict;
import org.equiphase.web.Sentence;

/** Why an assembly was held or out, by the reason that its plan gave. */
public enum Cause {
  TOO_SHORT("reason.noStretcher"),
  STRETCHER_RANGE("reason.range"),
  ALLOWANCE("reason.allowance", "reason.allowanceLeft", "reason.tooLongFixed"),
  NOT_A_PURE_DELAY("reason.noPureDelay", "reason.noCut"),
  LOSS("reason.lossTooHigh", "reason.lossMissing"),
  LOSS_SPREAD("reason.lossApart"),
  VSWR("reason.vswrTooHigh"),
  DRIFT("drift.beyondLimit"),
  TURNS_UNKNOWN("reason.turnsUnknown"),
  TOO_COARSE("reason.stepTooCoarse", "reason.settingTooCoarse", "reason.tooRisky"),
  UNCERTAINTY("reason.tooUncertain"),
  /** Held by a person. */
  HELD,
  SCRAPPED,
  OTHER;

  private final List<String> keys;

  Cause(String... keys) {
    this.keys = List.of(keys);
  }

  /** The cause that keeps a member out or held. */
  static Cause of(MemberPlan member) {
    return member.verdict() == Verdict.OUT ? of(member.reason()) : byPerson(member.verdict());
  }

  private static Cause byPerson(Verdict verdict) {
    return verdict == Verdict.SCRAPPED ? SCRAPPED : HELD;
  }

  static Cause of(Sentence reason) {
    // Where whole turns don't count, a short cable could be cut by one, were there cable for it.
    if (reason.key().equals("reason.allowance")
        && reason.values().get(0) instanceof Sentence side
        && side.key().equals("reason.tooShort")) {
      return TOO_SHORT;
    }
    return Arrays.stream(values())
        .filter(cause -> cause.keys.contains(reason.key()))
        .findFirst()
        .orElse(OTHER);
  }
}
