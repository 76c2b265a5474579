package org.equiphase.metrology;

import org.equiphase.rf.Require;

/**
 * One line of an uncertainty budget (JCGM 100:2008, clause 4 and 5.1).
 *
 * @param name what it is, not blank
 * @param value half-width, or standard uncertainty where the distribution is {@code NORMAL}; in the
 *     unit of the input, 0 to 1e100
 * @param distribution of the input
 * @param sensitivity change of the result per unit of the input, within ±1e100
 * @param degreesOfFreedom of the standard uncertainty, 1 or more, infinite where it is taken as
 *     exactly known (JCGM 100, G.4.3)
 * @param sharing whether the error is the same in all readings of a set
 */
public record Contribution(
    String name,
    double value,
    Distribution distribution,
    double sensitivity,
    double degreesOfFreedom,
    Sharing sharing) {

  /**
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks the rules above
   */
  public Contribution {
    if (name.isBlank()) {
      throw Require.refuse("name", "must not be empty; say what the contribution is");
    }
    Require.notNegative("value", Require.moderate("value", value));
    Require.moderate("sensitivity", sensitivity);
    if (!(degreesOfFreedom >= 1)) {
      throw Require.refuse("degreesOfFreedom", "must be 1 or more, not " + degreesOfFreedom);
    }
  }

  /** An input known in the unit of the result, with infinite degrees of freedom. */
  public static Contribution of(
      String name, double value, Distribution distribution, Sharing sharing) {
    return new Contribution(name, value, distribution, 1, Double.POSITIVE_INFINITY, sharing);
  }

  /**
   * An input stated as an expanded uncertainty, as certificates do: u = U/k (JCGM 100, 4.3.3).
   *
   * @param expandedUncertainty U, 0 or more, finite
   * @param coverageFactor k, above 0, mostly 2
   * @throws org.equiphase.rf.InvalidQuantityException for the field that breaks the rules
   */
  public static Contribution ofExpanded(
      String name,
      double expandedUncertainty,
      double coverageFactor,
      double sensitivity,
      double degreesOfFreedom,
      Sharing sharing) {
    Require.notNegative("expandedUncertainty", expandedUncertainty);
    Require.positive("coverageFactor", coverageFactor);
    return new Contribution(
        name,
        Require.finiteResult("expandedUncertainty", expandedUncertainty / coverageFactor),
        Distribution.NORMAL,
        sensitivity,
        degreesOfFreedom,
        sharing);
  }

  /** u(x), in the unit of the input. */
  public double inputStandardUncertainty() {
    return value / distribution.divisor();
  }

  /** |c|·u(x), in the unit of the result. */
  public double standardUncertainty() {
    return Math.abs(sensitivity) * inputStandardUncertainty();
  }
}
