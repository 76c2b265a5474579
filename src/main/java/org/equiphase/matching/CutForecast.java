package org.equiphase.matching;

/**
 * What a plan comes to when the work stops.
 *
 * <p>After each cut the assembly is read anew; the next cut is planned from that reading alone. The
 * recursion carries, cut by cut, the true errors as a length common to all frequencies plus a part
 * of each frequency's own, all normal. Up to the first new reading it is exact (to first order, as
 * the single cut). After a reading that asks for another cut it is approximate in this:
 *
 * <ul>
 *   <li>what the reading hides of each frequency's true error, and where the next cut lands, are
 *       normal, of the true mean and variance; so an assembly read as too long is, on average, less
 *       so;
 *   <li>how a new reading changes the differences between frequencies counts by its mean effect:
 *       the window of lengths that suit all frequencies becomes narrower;
 *   <li>the velocity factor's share in a later cut is that of its mean length.
 * </ul>
 *
 * <p>At one frequency the second of these is nothing.
 *
 * @param cuts mean number of cuts
 * @param in probability in tolerance
 * @param tooShort probability too short
 */
record CutForecast(double cuts, double in, double tooShort) {

  /** Branches less likely than this are not followed. */
  private static final double LEAST_REACH = 1e-6;

  /** An allowance below this is used up. */
  private static final double LEAST_MM = 1e-6;

  static CutForecast of(CutProblem problem, Landing landing, Aim aim, double cutMm) {
    double step = problem.cutResolutionMm();
    double left = problem.trimAllowanceMm() - cutMm;
    Landing later = landing.afterNewReading();
    LaterCut next = LaterCut.of(problem, later, aim.sdMm(0));
    CutStage stage = new CutStage(landing);
    double mean = cutMm;
    double sd = aim.sdMm(cutMm);
    double reach = 1;
    double cuts = 0;
    double in = 0;
    double tooShort = 0;
    for (int cut = 1; ; cut++) {
      cuts += reach;
      if (cut == problem.maxCuts() || !next.possible() || left < Math.max(step, LEAST_MM)) {
        stage.finish(mean, sd);
        return new CutForecast(cuts, in + reach * stage.in, tooShort + reach * stage.tooShort);
      }
      stage.measure(mean, sd, next);
      in += reach * stage.inAndStop();
      tooShort += reach * stage.tooShortAndStop();
      reach *= stage.again;
      if (reach < LEAST_REACH) {
        return new CutForecast(cuts, in, tooShort);
      }
      CutStage.Planned planned = stage.plan(next, left);
      double lengthSd = aim.sdMm(planned.cutMm());
      if (next.differs(lengthSd)) {
        next = LaterCut.of(problem, later, lengthSd);
        planned = stage.plan(next, left);
      }
      mean = planned.totalMm();
      sd = Math.hypot(lengthSd, planned.totalSdMm());
      left -= planned.cutMm();
      stage = stage.afterReading(later);
    }
  }
}
