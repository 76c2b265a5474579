package org.equiphase.workbook;

import java.util.Locale;
import org.equiphase.sheet.Book.Look;

/** What a column of the instructions holds. */
enum Kind {
  SERIAL(27, Look.TEXT),
  SET(20, Look.TEXT),
  POSITION(14, Look.TEXT),
  ACTION(56, Look.TEXT),
  READING(15, Look.INTEGER),
  INSTRUCTION(18, Look.INTEGER),
  CENTER(17, Look.SIGNED_DEGREES),
  TARGET(18, Look.DEGREES),
  MEASURED(18, Look.DEGREES),
  ERROR(16, Look.SIGNED_DEGREES),
  ACCEPTANCE(19, Look.DEGREES),
  VELOCITY_FACTOR(19, Look.QUANTITY),
  LINE_PER_MM(20, Look.QUANTITY),
  SLOPE(16, Look.THOUSANDTHS),
  AIM(17, Look.SIGNED_DEGREES),
  STEP(13, Look.QUANTITY),
  CUT(14, Look.MILLIMETRES),
  SETTING_NOW(17, Look.MILLIMETRES),
  SETTING(17, Look.MILLIMETRES),
  EXPECTED(18, Look.SIGNED_DEGREES),
  PROBABILITY(19, Look.THOUSANDTHS),
  DONE_CUT(16, Look.FILL_NUMBER),
  DONE_SETTING(17, Look.FILL_NUMBER),
  PHASE(20, Look.FILL_NUMBER),
  LOSS(20, Look.FILL_NUMBER),
  VSWR(20, Look.FILL_NUMBER),
  TEMPERATURE(20, Look.FILL_NUMBER),
  BENCH(30, Look.FILL_TEXT),
  INITIALS(15, Look.FILL_TEXT),
  DONE_AT(30, Look.FILL_TIME),
  /** Tells the row's instruction; hidden. */
  KEY(30, Look.KEY);

  private final double widthMm;
  private final Look look;

  Kind(double widthMm, Look look) {
    this.widthMm = widthMm;
    this.look = look;
  }

  double widthMm() {
    return widthMm;
  }

  Look look() {
    return look;
  }

  /** Whether the floor writes into it. */
  boolean isFilledIn() {
    return compareTo(DONE_CUT) >= 0 && this != KEY;
  }

  boolean isPerFrequency() {
    return switch (this) {
      case CENTER, TARGET, MEASURED, ERROR, ACCEPTANCE, SLOPE, EXPECTED, PHASE, LOSS, VSWR -> true;
      default -> false;
    };
  }

  /** Key of its heading; those per frequency take the frequency in GHz. */
  String headKey() {
    return "workbook.column." + name().toLowerCase(Locale.ROOT);
  }
}
