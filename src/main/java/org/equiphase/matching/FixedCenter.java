package org.equiphase.matching;

import java.util.Arrays;

/**
 * The exact answer for a given centre, where each member can be judged on its own: left as it is
 * where it may be, else the stretcher (it costs no cable), else the shortest trim.
 */
final class FixedCenter {

  private final Model model;
  private final Work work;

  /** Phase that the member still lacks at each frequency (degrees). */
  private final double[] lackDeg;

  private final double[] limitDeg;

  FixedCenter(Model model, Work work) {
    this.model = model;
    this.work = work;
    lackDeg = new double[model.frequencies];
    limitDeg = new double[model.frequencies];
  }

  /** Judges every member; {@code slackDeg} widens the limits. */
  Trial judge(double[] centerDeg, double slackDeg) {
    Trial trial = new Trial(centerDeg, model.members);
    for (int i = 0; i < model.members; i++) {
      work.spend(model.frequencies);
      if (i == model.master || isIn(i, centerDeg, slackDeg)) {
        continue;
      }
      double stretch = leastStretchAirMm(i, centerDeg, slackDeg);
      double trim = Double.isNaN(stretch) ? leastTrimAirMm(i, centerDeg, slackDeg) : Double.NaN;
      if (!Double.isNaN(stretch)) {
        trial.action[i] = Action.STRETCH;
        trial.airMm[i] = stretch;
        trial.stretchMm += Math.abs(stretch);
        trial.adjusted++;
      } else if (!Double.isNaN(trim)) {
        trial.action[i] = Action.TRIM;
        trial.airMm[i] = trim;
        trial.trimMm += model.trimMm(i, trim);
        trial.adjusted++;
      } else {
        trial.action[i] = Action.REPLACE;
        trial.replaced++;
      }
    }
    return trial;
  }

  boolean isIn(int member, double[] centerDeg, double slackDeg) {
    for (int k = 0; k < model.frequencies; k++) {
      if (Math.abs(model.residualDeg(member, k, 0, centerDeg[k])) > model.acceptDeg[k] + slackDeg) {
        return false;
      }
    }
    return true;
  }

  /** Smallest trim that brings the member in (mm of air), NaN if none does. */
  double leastTrimAirMm(int member, double[] centerDeg, double slackDeg) {
    return leastAirMm(member, centerDeg, slackDeg, 0, model.trimMaxAirMm[member]);
  }

  /** Smallest setting of the stretcher that brings the member in (mm of air), NaN if none does. */
  double leastStretchAirMm(int member, double[] centerDeg, double slackDeg) {
    return leastAirMm(
        member, centerDeg, slackDeg, model.stretchLowAirMm[member], model.stretchHighAirMm[member]);
  }

  /**
   * Shortening from {@code low} to {@code high} of least size that brings the member in, or NaN.
   */
  double leastAirMm(int member, double[] centerDeg, double slackDeg, double low, double high) {
    if (low > high) {
      return Double.NaN;
    }
    for (int k = 0; k < model.frequencies; k++) {
      lackDeg[k] = centerDeg[k] - model.errorDeg[member][k];
      limitDeg[k] = model.aimDeg[k] + slackDeg;
    }
    if (!model.modulo) {
      return leastInInterval(low, high);
    }
    double shorter = high >= 0 ? firstMatch(Math.max(low, 0), high) : Double.NaN;
    if (low >= 0) {
      return shorter;
    }
    Arrays.setAll(lackDeg, k -> -lackDeg[k]);
    double longer = -firstMatch(Math.max(-high, 0), -low);
    return Double.isNaN(longer) || shorter <= -longer ? shorter : longer;
  }

  private double leastInInterval(double low, double high) {
    double from = low;
    double to = high;
    for (int k = 0; k < model.frequencies; k++) {
      from = Math.max(from, (lackDeg[k] - limitDeg[k]) / model.degPerMm[k]);
      to = Math.min(to, (lackDeg[k] + limitDeg[k]) / model.degPerMm[k]);
    }
    return from > to + model.epsilonMm ? Double.NaN : Math.max(from, Math.min(0, to));
  }

  /**
   * First length from {@code from} to {@code to} at which every frequency is in, each with any
   * number of turns: moves on to where the frequency that is out comes in next, until none is out.
   */
  private double firstMatch(double from, double to) {
    double airMm = from;
    int inARow = 0;
    for (int k = 0; inARow < model.frequencies; k = (k + 1) % model.frequencies) {
      double lack = Model.wrap(lackDeg[k] - model.degPerMm[k] * airMm);
      if (Math.abs(lack) <= limitDeg[k] + 1e-11) {
        inARow++;
        continue;
      }
      work.spend(1);
      if (work.exhausted()) {
        return Double.NaN;
      }
      double turnDeg = lack > 0 ? lack - limitDeg[k] : lack + 360 - limitDeg[k];
      airMm = Math.max(Math.nextUp(airMm), airMm + turnDeg / model.degPerMm[k]);
      if (airMm > to + model.epsilonMm) {
        return Double.NaN;
      }
      inARow = 1;
    }
    return Math.min(airMm, to);
  }
}
