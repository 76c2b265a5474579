package org.equiphase.review;

import org.equiphase.review.Disposition.Kind;

/**
 * QA's own rules.
 *
 * @param atRiskProbability a member in tolerance is at risk below this probability of being so, 0…1
 * @param fitShare a sweep fits badly where its farthest point is off a pure delay by more than this
 *     share of the smallest tolerance
 * @param calibrationDays how long before it is due a calibration is called for
 * @param twoPersonConcession and twoPersonScrap: whether the decision takes a second person
 */
public record ReviewSettings(
    int version,
    double atRiskProbability,
    double fitShare,
    int calibrationDays,
    boolean twoPersonConcession,
    boolean twoPersonScrap) {

  /** Whether a decision takes effect only when a second person signs it too. */
  boolean needsSecond(Kind kind) {
    return (kind == Kind.CONCESSION && twoPersonConcession)
        || (kind == Kind.SCRAP && twoPersonScrap);
  }
}
