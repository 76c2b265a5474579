package org.equiphase.array;

import org.apache.commons.statistics.distribution.NormalDistribution;

/** How phase errors spread about 0. */
public enum ErrorDistribution {
  /** Equally likely anywhere within ± the tolerance; σ = T/√3. */
  UNIFORM,
  /** Normal, the tolerance being one standard deviation. */
  NORMAL;

  private static final NormalDistribution STANDARD = NormalDistribution.of(0, 1);

  /** The error, in tolerances, that a share of all errors stays below; above 0 and below 1. */
  double quantile(double share) {
    return this == UNIFORM ? 2 * share - 1 : STANDARD.inverseCumulativeProbability(share);
  }
}
