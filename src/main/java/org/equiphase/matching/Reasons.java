package org.equiphase.matching;

import java.util.function.IntToDoubleFunction;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.equiphase.matching.Reason.Code;
import org.jspecify.annotations.Nullable;

/** Finds out why each member gets its action, at the centre of the answer. */
final class Reasons {

  private final Model model;
  private final double[] centerDeg;
  private final FixedCenter judge;

  /** Longest wavelength (mm): a cut this long passes every turn at each frequency. */
  private final double wavelengthMm;

  Reasons(Model model, double[] centerDeg) {
    this.model = model;
    this.centerDeg = centerDeg;
    judge = new FixedCenter(model, new Work(SetSolver.DEFAULT_WORK_LIMIT));
    wavelengthMm = 360 / DoubleStream.of(model.degPerMm).min().orElseThrow();
  }

  Reason explain(int member, Action action, double airMm) {
    if (member == model.master) {
      return reason(member, Code.MASTER, worst(member), null, null);
    }
    return switch (action) {
      case NONE -> reason(member, Code.WITHIN_LIMIT, worst(member), null, null);
      case TRIM ->
          reason(
              member,
              Code.CUT,
              worst(member),
              model.trimMm(member, airMm),
              model.trimMm(member, model.trimMaxAirMm[member]));
      case STRETCH ->
          reason(
              member,
              airMm > 0 ? Code.SHORTEN : Code.LENGTHEN,
              worst(member),
              Math.abs(airMm),
              null);
      case REPLACE -> whyNot(member);
    };
  }

  private Reason whyNot(int member) {
    double trimMaxAirMm = model.trimMaxAirMm[member];
    boolean stretcher = model.hasStretcher(member);
    double reachMm = model.modulo ? wavelengthMm + trimMaxAirMm : Double.MAX_VALUE;
    double airMm = judge.leastAirMm(member, centerDeg, 0, -reachMm, reachMm);
    if (Double.isNaN(airMm)) {
      return reason(member, Code.NOT_A_PURE_DELAY, toBlame(member), null, null);
    }
    if (model.modulo && trimMaxAirMm > 0) {
      double cut = judge.leastAirMm(member, centerDeg, 0, 0, reachMm);
      airMm = Double.isNaN(cut) ? airMm : cut;
    }
    int k = worst(member);
    if (airMm > 0 && trimMaxAirMm > 0) {
      return reason(
          member,
          Code.ALLOWANCE_TOO_SMALL,
          k,
          model.trimMm(member, airMm),
          model.trimMm(member, trimMaxAirMm));
    }
    if (stretcher) {
      double available =
          airMm > 0 ? model.stretchHighAirMm[member] : -model.stretchLowAirMm[member];
      return reason(member, Code.STRETCHER_RANGE_TOO_SMALL, k, Math.abs(airMm), available);
    }
    return airMm > 0
        ? reason(member, Code.TOO_LONG_FIXED, k, model.trimMm(member, airMm), 0.0)
        : reason(member, Code.TOO_SHORT_NO_STRETCHER, k, -airMm, null);
  }

  private Reason reason(
      int member, Code code, int k, @Nullable Double neededMm, @Nullable Double availableMm) {
    return new Reason(
        code, model.frequencyHz[k], errorDeg(member, k), model.acceptDeg[k], neededMm, availableMm);
  }

  private double errorDeg(int member, int k) {
    return model.residualDeg(member, k, 0, centerDeg[k]);
  }

  /** The frequency with the greatest error for its limit. */
  private int worst(int member) {
    return greatest(k -> Math.abs(errorDeg(member, k)) / model.acceptDeg[k]);
  }

  /**
   * Of the frequencies without which some length would do (of all, if there is none such), the one
   * farthest for its limit from the least-squares pure delay.
   */
  private int toBlame(int member) {
    double product = 0;
    double square = 0;
    for (int k = 0; k < model.frequencies; k++) {
      product += model.degPerMm[k] * errorDeg(member, k);
      square += model.degPerMm[k] * model.degPerMm[k];
    }
    double fitMm = product / square;
    boolean[] frees = new boolean[model.frequencies];
    boolean any = false;
    for (int k = 0; k < frees.length; k++) {
      frees[k] = someLengthWithout(member, k);
      any |= frees[k];
    }
    boolean all = !any;
    return greatest(
        k ->
            all || frees[k]
                ? Math.abs(errorDeg(member, k) - model.degPerMm[k] * fitMm) / model.acceptDeg[k]
                : -1);
  }

  private boolean someLengthWithout(int member, int left) {
    double low = Double.NEGATIVE_INFINITY;
    double high = Double.POSITIVE_INFINITY;
    for (int k = 0; k < model.frequencies; k++) {
      if (k != left) {
        double error = errorDeg(member, k);
        low = Math.max(low, (-error - model.aimDeg[k]) / model.degPerMm[k]);
        high = Math.min(high, (-error + model.aimDeg[k]) / model.degPerMm[k]);
      }
    }
    return low <= high;
  }

  private int greatest(IntToDoubleFunction value) {
    return IntStream.range(0, model.frequencies)
        .reduce((best, k) -> value.applyAsDouble(k) > value.applyAsDouble(best) ? k : best)
        .orElseThrow();
  }
}
