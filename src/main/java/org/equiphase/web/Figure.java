package org.equiphase.web;

import java.io.Serializable;
import java.util.Locale;

/** A number in a sentence: with a fixed number of decimals, or written as a constant here says. */
public record Figure(double value, int decimals) implements Serializable {

  private static final int AS_IT_IS = -1;
  private static final int PROBABILITY = -2;

  public static Figure of(double value, int decimals) {
    return new Figure(value, decimals);
  }

  /** Up to six decimals, without trailing zeros. */
  public static Figure plain(double value) {
    return new Figure(value, AS_IT_IS);
  }

  /** A probability in percent, with its unit; never rounded to certainty. */
  public static Figure probability(double value) {
    return new Figure(value, PROBABILITY);
  }

  String in(Locale locale) {
    Format format = new Format(() -> locale);
    return switch (decimals) {
      case AS_IT_IS -> format.plain(value);
      case PROBABILITY -> format.percent(value);
      default -> format.decimals(value, decimals);
    };
  }
}
