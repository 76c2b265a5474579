package org.equiphase.workbook;

import java.math.BigDecimal;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.equiphase.web.Sentence;
import org.equiphase.workorder.FrequencySpecification;

/**
 * A column of an order's instructions.
 *
 * @param frequency which of the order's frequencies, from 0; 0 where there are none
 * @param frequencyHz that frequency; 0 where there is none
 */
record Field(Kind kind, int frequency, double frequencyHz) {

  private static final Pattern SPOT = Pattern.compile("spots\\[(\\d{1,3})]\\.(\\w+)");

  static Field of(Kind kind) {
    return new Field(kind, 0, 0);
  }

  /**
   * The column of what a service calls a field; empty where it stands in none.
   *
   * @param name as {@code spots[1].phaseDeg}
   */
  static Optional<Field> named(String name, List<FrequencySpecification> frequencies) {
    Matcher spot = SPOT.matcher(name);
    int k = spot.matches() ? Integer.parseInt(spot.group(1)) : 0;
    double frequencyHz = spot.matches() ? frequencies.get(k).frequencyHz() : 0;
    return Optional.ofNullable(
            switch (spot.matches() ? spot.group(2) : name) {
              case "doneTrimMm" -> Kind.DONE_CUT;
              case "doneSettingMm" -> Kind.DONE_SETTING;
              case "phaseDeg" -> Kind.PHASE;
              case "insertionLossDb" -> Kind.LOSS;
              case "vswr" -> Kind.VSWR;
              case "temperatureC" -> Kind.TEMPERATURE;
              case "benchId" -> Kind.BENCH;
              case "doneAt", "takenAt" -> Kind.DONE_AT;
              default -> null;
            })
        .map(kind -> new Field(kind, k, frequencyHz));
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
