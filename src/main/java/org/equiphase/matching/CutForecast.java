package org.equiphase.matching;

/**
 * What a plan comes to when the work stops.
 *
 * @param cuts mean number of cuts
 * @param in probability in tolerance
 * @param tooShort probability too short
 */
record CutForecast(double cuts, double in, double tooShort) {

  static CutForecast of(
      CutProblem problem, Landing landing, Aim aim, double cutMm, boolean staged) {
    Landing.Chance chance = aim.chance(cutMm);
    return new CutForecast(1, chance.in(), chance.tooShort());
  }
}
