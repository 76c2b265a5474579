package org.equiphase.catalog;

import java.math.BigDecimal;
import org.equiphase.web.Digits;
import org.equiphase.web.Texts;

/** Numbers as people read and type them. */
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

  /** The same in a sentence. */
  static Digits digits(double value) {
    return new Digits(plain(value));
  }

  /** All its digits as the person before the screen writes them. */
  static String typed(double value) {
    return Texts.say(digits(value));
  }

  /** The number rounded half up to so many decimals, as that person writes it. */
  static String fixed(double value, int decimals) {
    return Texts.say(Digits.of(value, decimals));
  }
}
