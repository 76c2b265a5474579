package org.equiphase.matching;

import java.util.List;

/**
 * What to do with one member of a set.
 *
 * @param serial its serial number
 * @param action what to do
 * @param trimMm physical length to cut off, 0 unless trimmed
 * @param stretchMm added electrical length, negative to shorten, 0 unless stretched
 * @param predictedErrorDeg error relative to the centre at each frequency after the action; the
 *     present one where the member is replaced; from −180 (exclusive) to 180 in {@link
 *     Turns#MODULO_360}
 * @param reason why
 */
public record MemberPlan(
    String serial,
    Action action,
    double trimMm,
    double stretchMm,
    List<Double> predictedErrorDeg,
    Reason reason) {

  public MemberPlan {
    predictedErrorDeg = List.copyOf(predictedErrorDeg);
  }
}
