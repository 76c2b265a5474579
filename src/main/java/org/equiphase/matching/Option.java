package org.equiphase.matching;

/**
 * One way to treat a member: an action with a range of shortening y and fixed turns. It asks that
 * the centre's length x_k at each frequency (phase / phase per millimetre) lie within a limit of
 * the member's own length plus y. All its conditions are bounds on differences with y:
 *
 * <pre>
 *   x_c − y ≤ above[c]      y − x_c ≤ below[c]      c = 0…K,  x_0 = 0
 * </pre>
 */
record Option(int member, Action action, double[] above, double[] below) {

  static Option of(
      Model model,
      int member,
      Action action,
      double lowAirMm,
      double highAirMm,
      int[] turns,
      double slackDeg) {
    int size = model.frequencies + 1;
    double[] above = new double[size];
    double[] below = new double[size];
    above[0] = -lowAirMm;
    below[0] = highAirMm;
    double[] limitDeg = action == Action.NONE ? model.acceptDeg : model.aimDeg;
    for (int k = 0; k < model.frequencies; k++) {
      double errorDeg = model.errorDeg[member][k] + 360.0 * turns[k];
      double limit = limitDeg[k] + slackDeg;
      above[k + 1] = (errorDeg + limit) / model.degPerMm[k];
      below[k + 1] = (limit - errorDeg) / model.degPerMm[k];
    }
    return new Option(member, action, above, below);
  }

  double lowAirMm() {
    return -above[0];
  }

  double highAirMm() {
    return below[0];
  }

  /** Bound of x_a − x_b that follows from this option alone. */
  double bound(int a, int b) {
    return above[a] + below[b];
  }

  /** Least shortening at a centre, not below {@link #lowAirMm()}; {@code lengths[0]} is 0. */
  double leastAirMm(double[] lengths) {
    double least = Double.NEGATIVE_INFINITY;
    for (int c = 0; c < above.length; c++) {
      least = Math.max(least, lengths[c] - above[c]);
    }
    return least;
  }

  /** Greatest shortening at a centre, not above {@link #highAirMm()}. */
  double greatestAirMm(double[] lengths) {
    double greatest = Double.POSITIVE_INFINITY;
    for (int c = 0; c < below.length; c++) {
      greatest = Math.min(greatest, lengths[c] + below[c]);
    }
    return greatest;
  }

  /** The same option with no more than the given shortening. */
  Option withHigh(double highAirMm) {
    double[] capped = below.clone();
    capped[0] = highAirMm;
    return new Option(member, action, above, capped);
  }
}
