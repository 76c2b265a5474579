package org.equiphase.matching;

/**
 * The rule for a cut after a new reading, short enough that its length hardly changes its
 * uncertainty: from the total length off, as read, to the cut.
 *
 * @param bestMm total length of highest probability in tolerance
 * @param limitMm greatest total length that keeps the limit on cutting too short, or NaN
 * @param stepMm step in which cuts can be instructed, 0 for any
 * @param sdMm standard uncertainty of the length removed
 * @param coverage distance from a limit, in standard uncertainties, at which it is passed with the
 *     greatest probability allowed
 */
record LaterCut(double bestMm, double limitMm, double stepMm, double sdMm, double coverage) {

  /** Change of the uncertainty that moves the rule noticeably. */
  private static final double NOTICEABLE = 0.02;

  static LaterCut of(CutProblem problem, Landing landing, double sdMm) {
    Aim fixed = new Aim(landing, sdMm, 0);
    double best = fixed.bestMm(ProblemCheck.LONGEST_MM);
    return new LaterCut(
        best,
        fixed.limitMm(problem.tooShortLimit(), best + problem.cutResolutionMm()),
        problem.cutResolutionMm(),
        sdMm,
        -StandardNormal.quantile(problem.tooShortLimit()));
  }

  boolean possible() {
    return limitMm > 0;
  }

  boolean differs(double otherSdMm) {
    return Math.abs(otherSdMm - sdMm) > NOTICEABLE * sdMm;
  }

  /** The cut for a total length off as read; at least one step. */
  double cutMm(double readMm) {
    double best = bestMm - readMm;
    double limit = limitMm - readMm;
    if (stepMm == 0) {
      return Math.max(0, Math.min(best, limit));
    }
    return stepMm * Math.max(1, Math.min(Math.rint(best / stepMm), Math.floor(limit / stepMm)));
  }
}
