package org.equiphase.web;

import java.io.Serializable;
import java.util.Locale;

/** A number in a sentence: with a fixed number of decimals, or as many as it has (−1). */
public record Figure(double value, int decimals, boolean signed) implements Serializable {

  private static final int AS_IT_IS = -1;

  public static Figure of(double value, int decimals) {
    return new Figure(value, decimals, false);
  }

  /** With its sign, also where it is positive. */
  public static Figure signed(double value, int decimals) {
    return new Figure(value, decimals, true);
  }

  /** Up to six decimals, without trailing zeros. */
  public static Figure plain(double value) {
    return new Figure(value, AS_IT_IS, false);
  }

  String in(Locale locale) {
    Format format = new Format(() -> locale);
    String text = decimals == AS_IT_IS ? format.plain(value) : format.decimals(value, decimals);
    return signed && !text.startsWith("−") ? "+" + text : text;
  }
}
