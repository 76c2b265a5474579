package org.equiphase.metrology;

import org.jspecify.annotations.Nullable;

/**
 * A gauge study by analysis of variance.
 *
 * @param parts part to part
 * @param appraisers person to person; null with one appraiser
 * @param interaction of both; null with one appraiser
 * @param equipment trial to trial
 * @param total sum of all
 * @param pooled whether interaction was taken for chance and added to repeatability
 * @param variation the result; negative variance components count as 0
 */
public record AnovaGauge(
    Source parts,
    @Nullable Source appraisers,
    @Nullable Source interaction,
    Source equipment,
    Source total,
    boolean pooled,
    GaugeVariation variation) {

  /**
   * One line of the table.
   *
   * @param sumOfSquares in the unit of the readings, squared
   * @param degreesOfFreedom of the sum
   * @param f mean square over that of the source it is tested against; null where there is none, or
   *     that is 0
   * @param p probability of an F this large by chance; null where F is not defined
   */
  public record Source(
      double sumOfSquares, int degreesOfFreedom, @Nullable Double f, @Nullable Double p) {

    /** Sum of squares over degrees of freedom. */
    public double meanSquare() {
      return sumOfSquares / degreesOfFreedom;
    }
  }
}
