package org.equiphase.metrology;

import java.util.OptionalInt;
import org.equiphase.rf.Require;

/**
 * What a gauge study finds, each as one standard deviation in the unit of the readings (AIAG,
 * Measurement Systems Analysis, 4th edition, chapter III-B).
 *
 * @param equipment EV, repeatability: trial to trial
 * @param appraiser AV, reproducibility: person to person
 * @param interaction persons who differ from part to part; 0 where pooled or not separated
 * @param part PV, part to part
 */
public record GaugeVariation(double equipment, double appraiser, double interaction, double part) {

  /** √2 as the manual prints it. */
  private static final double CATEGORY_FACTOR = 1.41;

  /** GRR, all that isn't the parts' own: √(EV² + AV² + interaction²). */
  public double gauge() {
    return Math.hypot(Math.hypot(equipment, appraiser), interaction);
  }

  /** TV, √(GRR² + PV²). */
  public double total() {
    return Math.hypot(gauge(), part);
  }

  /** A variation as percent of TV; 0 where TV is 0. Percentages don't add up to 100. */
  public double percentOfTotal(double variation) {
    return total() == 0 ? 0 : 100 * variation / total();
  }

  /**
   * Six standard deviations as percent of a tolerance.
   *
   * @param variation one of the above
   * @param toleranceWidth upper less lower limit, above 0
   */
  public double percentOfTolerance(double variation, double toleranceWidth) {
    return 100 * 6 * variation / Require.positive("toleranceWidth", toleranceWidth);
  }

  /** ndc, how many kinds of parts the gauge tells apart: 1.41·PV/GRR, cut; empty for GRR = 0. */
  public OptionalInt distinctCategories() {
    return gauge() == 0
        ? OptionalInt.empty()
        : OptionalInt.of((int) Math.floor(CATEGORY_FACTOR * part / gauge()));
  }
}
