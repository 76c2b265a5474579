package org.equiphase.review;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.equiphase.adjustment.SetPlan;
import org.equiphase.adjustment.SetPlan.MemberPlan;
import org.equiphase.array.ArrayEffect;
import org.equiphase.array.LinearArray;
import org.equiphase.array.Taper;
import org.equiphase.web.Checks;
import org.jspecify.annotations.Nullable;

/**
 * What the set's errors do to an antenna whose elements stand on a line in the order of positions:
 * with one member as it is, with that member at the set's centre, and without errors.
 *
 * @param frequencyHz where the member's error uses most of its limit
 * @param errorDeg of the member there
 */
record ArrayView(
    Question question,
    double frequencyHz,
    int elements,
    double errorDeg,
    Effect asItIs,
    Effect corrected,
    Effect errorFree) {

  private static final double SIDELOBE_DB = 25;
  private static final int N_BAR = 4;

  /** The array that is supposed. */
  record Question(double steerDeg, double spacingWavelengths, boolean tapered) {

    static final Question USUAL = new Question(0, 0.5, false);

    Question {
      new Checks()
          .inRange("steerDeg", steerDeg, -80, 80)
          .inRange("spacingWavelengths", spacingWavelengths, 0.05, 10)
          .done();
    }
  }

  /** One state of the array; the sidelobe is null where there is none. */
  record Effect(double gainLossDb, double beamShiftDeg, @Nullable Double peakSidelobeDb) {

    static Effect of(LinearArray array, double steerDeg, double[] errorDeg) {
      ArrayEffect effect = ArrayEffect.of(array, steerDeg, errorDeg);
      OptionalDouble sidelobe = effect.peakSidelobeDb();
      return new Effect(
          effect.gainLossDb(),
          effect.beamShiftDeg(),
          sidelobe.isPresent() ? sidelobe.getAsDouble() : null);
    }
  }

  /** Null where the set has too few members to make an array, or the member no usable reading. */
  static @Nullable ArrayView of(SetPlan plan, MemberPlan member, Question question) {
    int elements = plan.members().size();
    if (elements < 2 || member.spots().isEmpty()) {
      return null;
    }
    int k = worst(member);
    List<Double> errors = new ArrayList<>();
    int at = 0;
    for (MemberPlan each : plan.members()) {
      boolean here = each.assembly().id() == member.assembly().id();
      if (here) {
        at = errors.size();
      }
      errors.add(
          each.spots().isEmpty()
              ? 0.0
              : here ? each.spots().get(k).errorDeg() : each.spots().get(k).predictedErrorDeg());
    }
    double[] asItIs = errors.stream().mapToDouble(e -> e).toArray();
    double[] corrected = asItIs.clone();
    corrected[at] = 0;
    double[] taper =
        question.tapered() ? Taper.taylor(elements, SIDELOBE_DB, N_BAR) : Taper.uniform(elements);
    LinearArray array = LinearArray.ofSpacing(question.spacingWavelengths(), taper);
    return new ArrayView(
        question,
        member.spots().get(k).frequencyHz(),
        elements,
        asItIs[at],
        Effect.of(array, question.steerDeg(), asItIs),
        Effect.of(array, question.steerDeg(), corrected),
        Effect.of(array, question.steerDeg(), new double[elements]));
  }

  private static int worst(MemberPlan member) {
    int worst = 0;
    for (int k = 1; k < member.spots().size(); k++) {
      if (share(member, k) > share(member, worst)) {
        worst = k;
      }
    }
    return worst;
  }

  private static double share(MemberPlan member, int k) {
    return Math.abs(member.spots().get(k).errorDeg()) / member.spots().get(k).toleranceDeg();
  }
}
