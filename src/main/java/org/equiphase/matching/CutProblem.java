package org.equiphase.matching;

import java.util.List;

/**
 * The question how much to cut off one assembly, where neither its reading, nor the cut, nor its
 * velocity factor is known exactly.
 *
 * <p>The true phase error at frequency k is the measured one less a reading error of standard
 * uncertainty u_k, independent from frequency to frequency. A planned cut d takes off d + δ, δ of
 * standard uncertainty {@code cutStandardUncertaintyMm}, and moves the phase by 360·f·(d +
 * δ)/(v·c). All are normal.
 *
 * @param spots the newest reading, at 1 to 200 frequencies
 * @param velocityFactor velocity factor of the cable that would be cut
 * @param cutStandardUncertaintyMm by what a cut differs from its instruction (1σ), 0 to 1000 mm
 * @param cutResolutionMm step in which cuts can be instructed, 0 (any length) to 1000 mm
 * @param trimAllowanceMm the most that may be cut off in all, 0 to 100 000 mm
 * @param tooShortLimit greatest probability at which a single cut may end too short at any
 *     frequency, above 0 and below 0.5
 * @param maxCuts the most cuts, this one included, 1 to 20
 */
public record CutProblem(
    List<Spot> spots,
    VelocityFactorEstimate velocityFactor,
    double cutStandardUncertaintyMm,
    double cutResolutionMm,
    double trimAllowanceMm,
    double tooShortLimit,
    int maxCuts) {

  /** Usual limit on the probability of cutting too short. */
  public static final double DEFAULT_TOO_SHORT_LIMIT = 0.02;

  /** Usual number of cuts, this one included. */
  public static final int DEFAULT_MAX_CUTS = 3;

  private static final double COARSEST_MM = 1000;

  /**
   * @throws InvalidProblemException if a field is missing, not finite or out of range
   */
  public CutProblem {
    spots = SetProblem.copy(spots);
    Spot.check(spots);
    ProblemCheck.present("velocityFactor", velocityFactor);
    ProblemCheck.between("cutStandardUncertaintyMm", cutStandardUncertaintyMm, 0, COARSEST_MM);
    ProblemCheck.between("cutResolutionMm", cutResolutionMm, 0, COARSEST_MM);
    ProblemCheck.between("trimAllowanceMm", trimAllowanceMm, 0, ProblemCheck.LONGEST_MM);
    if (!(tooShortLimit > 0 && tooShortLimit < 0.5)) {
      throw ProblemCheck.refuse(
          "tooShortLimit", "must be above 0 and below 0.5, not " + tooShortLimit);
    }
    ProblemCheck.between("maxCuts", maxCuts, 1, 20);
  }

  /** A problem with the usual limit on cutting too short and the usual number of cuts. */
  public CutProblem(
      List<Spot> spots,
      VelocityFactorEstimate velocityFactor,
      double cutStandardUncertaintyMm,
      double cutResolutionMm,
      double trimAllowanceMm) {
    this(
        spots,
        velocityFactor,
        cutStandardUncertaintyMm,
        cutResolutionMm,
        trimAllowanceMm,
        DEFAULT_TOO_SHORT_LIMIT,
        DEFAULT_MAX_CUTS);
  }

  /**
   * A reading at one frequency.
   *
   * @param frequencyHz 1 Hz to 1 THz
   * @param phaseErrorDeg measured phase error relative to the set's centre, −1e9 to 1e9; negative
   *     is too long
   * @param acceptanceDeg acceptance limit: the tolerance less the guard band, above 0 and at most
   *     1e6
   * @param readingStandardUncertaintyDeg standard uncertainty of the reading, 0 to 1e6
   */
  public record Spot(
      double frequencyHz,
      double phaseErrorDeg,
      double acceptanceDeg,
      double readingStandardUncertaintyDeg) {

    private static final int MOST = 200;
    private static final double GREATEST_DEG = 1e6;
    private static final double GREATEST_ERROR_DEG = 1e9;

    static void check(List<Spot> spots) {
      if (spots.isEmpty()) {
        throw ProblemCheck.refuse("spots", "must hold at least one frequency");
      }
      if (spots.size() > MOST) {
        throw ProblemCheck.refuse(
            "spots", "must hold at most " + MOST + " frequencies, not " + spots.size());
      }
      for (int k = 0; k < spots.size(); k++) {
        Spot spot = spots.get(k);
        String field = "spots[" + k + "]";
        ProblemCheck.present(field, spot);
        ProblemCheck.between(field + ".frequencyHz", spot.frequencyHz, 1, 1e12);
        ProblemCheck.between(
            field + ".phaseErrorDeg", spot.phaseErrorDeg, -GREATEST_ERROR_DEG, GREATEST_ERROR_DEG);
        if (!(spot.acceptanceDeg > 0 && spot.acceptanceDeg <= GREATEST_DEG)) {
          throw ProblemCheck.refuse(
              field + ".acceptanceDeg",
              "must be above 0 and at most " + GREATEST_DEG + ", not " + spot.acceptanceDeg);
        }
        ProblemCheck.between(
            field + ".readingStandardUncertaintyDeg",
            spot.readingStandardUncertaintyDeg,
            0,
            GREATEST_DEG);
      }
    }
  }
}
