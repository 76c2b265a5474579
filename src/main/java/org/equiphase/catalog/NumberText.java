package org.equiphase.catalog;

import java.math.BigDecimal;
import java.util.Locale;

/** Numbers as people read them, the same on every machine. */
final class NumberText {

  private NumberText() {}

  /** All digits of the number and no more: 0.695 rather than 6.95E-1, 10 rather than 10.0. */
  static String plain(double value) {
    if (value == 0) {
      return "0";
    }
    double size = Math.abs(value);
    return size >= 1e-6 && size < 1e12
        ? new BigDecimal(Double.toString(value)).stripTrailingZeros().toPlainString()
        : Double.toString(value);
  }

  /** The number rounded half up to so many decimals. */
  static String fixed(double value, int decimals) {
    return String.format(Locale.ROOT, "%." + decimals + "f", value);
  }
}
