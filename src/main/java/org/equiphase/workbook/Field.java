package org.equiphase.workbook;

import java.math.BigDecimal;
import org.equiphase.web.Sentence;

/**
 * A column of an order's instructions.
 *
 * @param frequency which of the order's frequencies, from 0; 0 where there are none
 * @param frequencyHz that frequency; 0 where there is none
 */
record Field(Kind kind, int frequency, double frequencyHz) {

  static Field of(Kind kind) {
    return new Field(kind, 0, 0);
  }

  Sentence head() {
    return kind.isPerFrequency()
        ? Sentence.of(kind.headKey(), ghz(frequencyHz))
        : Sentence.of(kind.headKey());
  }

  static String ghz(double frequencyHz) {
    return BigDecimal.valueOf(frequencyHz).movePointLeft(9).stripTrailingZeros().toPlainString();
  }
}
