package org.equiphase.web;

import java.io.Serializable;
import java.util.Locale;

/** A number in a sentence: with a fixed number of decimals, or as many as it has (−1). */
public record Figure(double value, int decimals) implements Serializable {

  private static final int AS_IT_IS = -1;

  public static Figure of(double value, int decimals) {
    return new Figure(value, decimals);
  }

  /** Up to six decimals, without trailing zeros. */
  public static Figure plain(double value) {
    return new Figure(value, AS_IT_IS);
  }

  String in(Locale locale) {
    Format format = new Format(() -> locale);
    return decimals == AS_IT_IS ? format.plain(value) : format.decimals(value, decimals);
  }
}
