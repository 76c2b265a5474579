package org.equiphase.matching;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What finished cuts say of a lot's velocity factor.
 *
 * @param estimate the velocity factor to plan with, its uncertainty widened by the Birge ratio
 *     where the cuts scatter more than their uncertainties say
 * @param cuts each cut in the order given
 * @param cutsUsed number of cuts in the estimate
 * @param chiSquared scatter of the cuts used about their own mean, in units of their uncertainties;
 *     about {@code cutsUsed − 1} when the uncertainties are right
 * @param birgeRatio factor by which the uncertainty was widened, 1 for none
 */
public record VelocityFactorLearning(
    VelocityFactorEstimate estimate,
    List<CutOutcome> cuts,
    int cutsUsed,
    double chiSquared,
    double birgeRatio) {

  public VelocityFactorLearning {
    cuts = List.copyOf(cuts);
  }

  /**
   * What one cut says.
   *
   * @param serial serial number of the assembly
   * @param cutMm length cut off
   * @param impliedVelocityFactor velocity factor that this cut alone would mean; above 1 where the
   *     phase moved far too little; null where it moved the wrong way, or by less than twice its
   *     standard uncertainty
   * @param impliedStandardUncertainty its standard uncertainty, or null likewise
   * @param deviation distance of the cut from what the prior and the other cuts used predict for
   *     it, in standard deviations; positive where the phase moved more than predicted
   * @param used false for an outlier, which the estimate leaves out
   * @param estimateAfter estimate after this cut and those before it, outliers left out, before any
   *     widening
   */
  public record CutOutcome(
      String serial,
      double cutMm,
      @Nullable Double impliedVelocityFactor,
      @Nullable Double impliedStandardUncertainty,
      double deviation,
      boolean used,
      VelocityFactorEstimate estimateAfter) {}
}
