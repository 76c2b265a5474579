package org.equiphase.matching;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The least amounts once each member's action and turns are fixed: least total trim, then least
 * total stretch, then the lowest centre that has both.
 *
 * @param centerDeg centre in the middle of what the amounts leave free
 * @param airMm shortening for each option, in their order (mm of air)
 */
record Settlement(double[] centerDeg, double[] airMm) {

  /**
   * Settles the options, or null if no centre suits all; where the work runs out, the stretches are
   * not the least.
   */
  static @Nullable Settlement of(Model model, List<Option> options, Work work) {
    int size = model.frequencies + 1;
    Zone zone = Zone.everything(size);
    Zone.Fit fit = new Zone.Fit(size);
    if (!meetAll(zone, options, fit, model.epsilonMm)) {
      return null;
    }
    // A trim grows with the centre's length, so all are least at once, at the least element.
    double[] least = zone.leastElement();
    List<Option> capped =
        options.stream().map(option -> capTrim(option, least, model.epsilonMm)).toList();
    double[] lengths = least;
    if (capped.stream().anyMatch(option -> option.action() == Action.STRETCH)) {
      if (!meetAll(zone, capped, fit, model.epsilonMm)) {
        return null;
      }
      lengths = LeastStretch.solve(zone, capped, model.epsilonMm, work);
    }
    double[] airMm = new double[options.size()];
    for (int j = 0; j < airMm.length; j++) {
      Option option = capped.get(j);
      double from = option.leastAirMm(lengths);
      airMm[j] = Math.max(from, Math.min(0, option.greatestAirMm(lengths)));
    }
    return new Settlement(middle(model, capped, airMm), airMm);
  }

  private static boolean meetAll(Zone zone, List<Option> options, Zone.Fit fit, double epsilonMm) {
    for (Option option : options) {
      if (fit.measure(zone, option) < -epsilonMm) {
        return false;
      }
      zone.meet(fit);
    }
    return true;
  }

  private static Option capTrim(Option option, double[] least, double epsilonMm) {
    return option.action() == Action.TRIM
        ? option.withHigh(option.leastAirMm(least) + epsilonMm)
        : option;
  }

  /** With the amounts fixed, the frequencies no longer depend on one another. */
  private static double[] middle(Model model, List<Option> options, double[] airMm) {
    double[] centerDeg = new double[model.frequencies];
    for (int k = 0; k < centerDeg.length; k++) {
      double low = Double.NEGATIVE_INFINITY;
      double high = Double.POSITIVE_INFINITY;
      for (int j = 0; j < airMm.length; j++) {
        Option option = options.get(j);
        low = Math.max(low, airMm[j] - option.below()[k + 1]);
        high = Math.min(high, airMm[j] + option.above()[k + 1]);
      }
      centerDeg[k] = (low + high) / 2 * model.degPerMm[k];
    }
    return centerDeg;
  }
}
