package org.equiphase.web;

import java.io.Serializable;
import java.text.DecimalFormatSymbols;
import java.util.Locale;

/**
 * A number in a sentence that is written out already, with a decimal point; only that is replaced
 * by the sign of the reader's language.
 */
public record Digits(String withPoint) implements Serializable {

  /** The number as Java writes it, all its digits. */
  public static Digits of(double value) {
    return new Digits(Double.toString(value));
  }

  /** The number with a fixed number of decimals. */
  public static Digits of(double value, int decimals) {
    return new Digits(String.format(Locale.ROOT, "%." + decimals + "f", value));
  }

  /** The same with its sign, also where it is positive. */
  public static Digits signed(double value, int decimals) {
    return new Digits(String.format(Locale.ROOT, "%+." + decimals + "f", value));
  }

  String in(Locale locale) {
    return withPoint.replace('.', DecimalFormatSymbols.getInstance(locale).getDecimalSeparator());
  }
}
